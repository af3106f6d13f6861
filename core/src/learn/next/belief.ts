import { inverse, Matrix } from 'ml-matrix';
import { sobolPoints } from '../../brew/sampling/sobol.ts';
import { normalQuantile } from '../../panel/distributions.ts';
import { laplaceProcess } from './preference.ts';
import { conditionProcess, covarianceMatrix, matern52 } from './process.ts';

/** A place in the space of levels: each level as a part of its range, and the age of the coffee against today's [d]. */
export interface Place {
  u: readonly number[];
  age: number;
}

/** One choice of the process's free scales, in units of the values' own spread. */
export interface Scales {
  /** How far the level as a whole is open; 0 when only choices are known, which say nothing of it. */
  level: number;
  reach: readonly number[];
  signal: number;
  /**
   * How far a value falls from the middle of a range to its end, where a hill is expected; and how far lines may tilt it. Squares and products
   * may differ from that by {@link BEND} of it.
   */
  hill: number;
  repeat: number;
  drift: number;
}

/** The process with one choice of scales, conditioned on everything known. */
export interface Course {
  scales: Scales;
  weight: number;
  alpha: Float64Array;
  /** What is taken off the prior covariance between cross covariances: [row][row], flat. */
  shrink: Float64Array;
}

/** What is believed of the value anywhere. */
export interface Belief {
  rows: readonly Place[];
  courses: readonly Course[];
  /** Value = centre + scale × process. */
  centre: number;
  scale: number;
  hill: boolean;
}

/** Everything a belief is made from. Values are to be made larger. */
export interface Evidence {
  values: readonly { place: Place; value: number; doubt: number }[];
  /** Blind choices, and the places they speak of. */
  choices: readonly { better: Place; worse: Place }[];
  factors: number;
  /** Scatter of the value from brew to brew; null learns it. */
  repeat: number | null;
  aging: boolean;
  /** Values that are judged are expected to fall off to both sides of a best level; a measured figure is not. */
  hill: boolean;
}

/** Choices of scales that are tried, and the most that are kept. */
const TRIED = 128;
const KEPT = 20;
/** Prior medians and widths (in ln) of the scales: reach as a part of a range, the others of the values' spread; our choice. */
const REACH = { median: 0.7, width: 0.7 };
const SIGNAL = { median: 0.5, width: 0.7 };
const HILL = { median: 0.7, width: 0.8 };
/** How far squares and products may differ from the hill that is expected. */
const BEND = 0.5;
const REPEAT = { median: 0.3, width: 0.8 };
const DRIFT = { median: 0.05, width: 1 };
/** How far the level as a whole is open, beside the spread. */
const LEVEL = 1;
/** Scatter of one taste between two cups, as a part of the worth's spread, when only choices are known; our choice. */
const TASTE = 0.5;

const logNormal = ({ median, width }: { median: number; width: number }, u: number): number =>
  median * Math.exp(width * normalQuantile(Math.min(1 - 1e-6, Math.max(1e-6, u))));

/** Prior covariance of the process between two places. */
export function kernelOf({ level, reach, signal, hill, drift }: Scales): (a: Place, b: Place) => number {
  return (a, b) => {
    let square = 0;
    let along = 0;
    for (let i = 0; i < reach.length; i++) {
      square += ((a.u[i]! - b.u[i]!) / reach[i]!) ** 2;
      along += (2 * a.u[i]! - 1) * (2 * b.u[i]! - 1);
    }
    return (
      level * level +
      signal * signal * matern52(Math.sqrt(square)) +
      hill * hill * (along + BEND * BEND * along * along) +
      drift * drift * a.age * b.age
    );
  };
}

/** What is expected of the process at a place before anything is known: with a hill, less towards the ends of the ranges. */
const expectedHill = ({ hill }: Scales, { u }: Place, wanted: boolean): number =>
  wanted ? -hill * u.reduce((t, v) => t + (2 * v - 1) ** 2, 0) : 0;

/** Forms a belief: the scales are not chosen but averaged over, each choice weighted by how well it explains what was seen. */
export function believe(evidence: Evidence): Belief {
  const { values, factors } = evidence;
  const centre = values.length > 0 ? values.reduce((t, { value }) => t + value, 0) / values.length : 0;
  const spread = Math.sqrt(
    values.reduce((t, { value }) => t + (value - centre) ** 2, 0) / Math.max(1, values.length - 1),
  );
  const least = Math.max(evidence.repeat ?? 0, ...values.map(({ doubt }) => doubt));
  const scale = Math.max(spread, 2 * least) || 1;
  const rows = rowsOf(evidence);
  const found = scalesTried(factors, evidence, scale).flatMap((scales) => {
    const one = conditionOn(evidence, rows, scales, centre, scale);
    return one ? [{ scales, ...one }] : [];
  });
  const best = Math.max(...found.map(({ log }) => log));
  const kept = found.sort((a, b) => b.log - a.log).slice(0, KEPT);
  const total = kept.reduce((t, { log }) => t + Math.exp(log - best), 0);
  return {
    rows,
    centre,
    scale,
    hill: evidence.hill,
    courses: kept.map(({ scales, alpha, shrink, log }) => ({
      scales,
      alpha: Float64Array.from(alpha),
      shrink: Float64Array.from(shrink().to1DArray()),
      weight: Math.exp(log - best) / total,
    })),
  };
}

/** Rows of the process: every brew by itself, or, where choices speak, every place once. */
function rowsOf({ values, choices }: Evidence): Place[] {
  if (choices.length === 0) return values.map(({ place }) => place);
  const all = [
    ...values.map(({ place }) => place),
    ...choices.flatMap(({ better, worse }) => [better, worse]),
  ];
  return [...new Map(all.map((place) => [keyOf(place), place])).values()];
}

const keyOf = ({ u, age }: Place): string => [...u, age].map((v) => v.toFixed(9)).join();

/** Points of the prior of the scales, evenly spread. */
function scalesTried(factors: number, { repeat, aging, values, choices }: Evidence, scale: number): Scales[] {
  const dimensions = factors + 4;
  const points = sobolPoints(TRIED, dimensions, 7);
  return Array.from({ length: TRIED }, (_, k) => {
    const u = (d: number) => points[k * dimensions + d]!;
    return {
      level: values.length === 0 && choices.length > 0 ? 0 : LEVEL,
      reach: Array.from({ length: factors }, (__, i) => logNormal(REACH, u(i))),
      signal: logNormal(SIGNAL, u(factors)),
      hill: logNormal(HILL, u(factors + 3)),
      repeat: repeat === null ? logNormal(REPEAT, u(factors + 1)) : repeat / scale,
      drift: aging ? logNormal(DRIFT, u(factors + 2)) : 0,
    };
  });
}

function conditionOn(
  { values, choices, hill }: Evidence,
  rows: readonly Place[],
  scales: Scales,
  centre: number,
  scale: number,
): { alpha: readonly number[]; shrink: () => Matrix; log: number } | null {
  const K = covarianceMatrix(rows, kernelOf(scales));
  const variance = (doubt: number) => scales.repeat ** 2 + (doubt / scale) ** 2 + 1e-8;
  if (choices.length === 0) {
    if (rows.length === 0) return { alpha: [], shrink: () => Matrix.zeros(0, 0), log: 0 };
    values.forEach(({ doubt }, i) => {
      K.set(i, i, K.get(i, i) + variance(doubt));
    });
    const one = conditionProcess(
      K,
      values.map(({ value, place }) => (value - centre) / scale - expectedHill(scales, place, hill)),
    );
    // The inverse is worth its time only for what is kept.
    return one && { alpha: one.alpha, shrink: () => inverse(K), log: one.log };
  }
  const at = new Map(rows.map((place, i) => [keyOf(place), i]));
  const pairs = choices.map(({ better, worse }) => ({
    better: at.get(keyOf(better))!,
    worse: at.get(keyOf(worse))!,
  }));
  const noise = values.length > 0 ? Math.max(scales.repeat, 0.05) : TASTE;
  const one = laplaceProcess(
    K,
    pairs,
    noise,
    values.map(({ place, value, doubt }) => ({
      place: at.get(keyOf(place))!,
      value: (value - centre) / scale,
      variance: variance(doubt),
    })),
    rows.map((place) => expectedHill(scales, place, hill)),
  );
  return one && { alpha: one.alpha, shrink: () => one.shrink, log: one.log };
}

/** What one course says of places: means and their covariance, in units of the spread. */
export interface Said {
  mean: Float64Array;
  /** [place]: variance. */
  variance: Float64Array;
  /** Covariance of place i with place j. */
  covariance(i: number, j: number): number;
}

/** What a course says of many places at once. */
export function saidOf(
  { rows, hill }: Belief,
  { scales, alpha, shrink }: Course,
  places: readonly Place[],
): Said {
  const kernel = kernelOf(scales);
  const n = rows.length;
  const mean = new Float64Array(places.length);
  const variance = new Float64Array(places.length);
  if (n === 0) {
    places.forEach((place, j) => {
      mean[j] = expectedHill(scales, place, hill);
      variance[j] = kernel(place, place);
    });
    return { mean, variance, covariance: (i, j) => kernel(places[i]!, places[j]!) };
  }
  // [place][row], so that one place lies together.
  const cross = new Float64Array(places.length * n);
  const pulled = new Float64Array(places.length * n);
  places.forEach((place, j) => {
    let sum = expectedHill(scales, place, hill);
    for (let r = 0; r < n; r++) {
      const shared = kernel(rows[r]!, place);
      cross[j * n + r] = shared;
      sum += shared * alpha[r]!;
    }
    mean[j] = sum;
    for (let r = 0; r < n; r++) {
      let pull = 0;
      for (let c = 0; c < n; c++) pull += shrink[r * n + c]! * cross[j * n + c]!;
      pulled[j * n + r] = pull;
    }
  });
  const dot = (i: number, j: number) => {
    let sum = 0;
    for (let r = 0; r < n; r++) sum += cross[i * n + r]! * pulled[j * n + r]!;
    return sum;
  };
  places.forEach((place, j) => {
    variance[j] = Math.max(0, kernel(place, place) - dot(j, j));
  });
  return { mean, variance, covariance: (i, j) => kernel(places[i]!, places[j]!) - dot(i, j) };
}

/** Mean and standard deviation at places, all courses taken together, in the value's unit. */
export function expectedAt(belief: Belief, places: readonly Place[]): { mean: number; sd: number }[] {
  const first = new Float64Array(places.length);
  const second = new Float64Array(places.length);
  for (const course of belief.courses) {
    const { mean, variance } = saidOf(belief, course, places);
    mean.forEach((m, j) => {
      first[j]! += course.weight * m;
      second[j]! += course.weight * (variance[j]! + m * m);
    });
  }
  return Array.from(first, (m, j) => ({
    mean: belief.centre + belief.scale * m,
    sd: belief.scale * Math.sqrt(Math.max(0, second[j]! - m * m)),
  }));
}
