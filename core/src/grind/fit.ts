import { type Binned, binnedQuantile, undersizes } from './binned.ts';
import { type Climbed, climbLeastSquares, climbLikelihood, FIRST_STEPS } from './climb.ts';
import { type FitFamily, logNormalFamily, weibullFamily } from './fit-kernels.ts';
import type { SizeModel } from './model.ts';

/** Models that can be fitted, from few parameters to many. */
export const MODEL_NAMES = ['log_normal', 'weibull', 'two_modes', 'three_modes'] as const;
export type ModelName = (typeof MODEL_NAMES)[number];

const FAMILIES: Readonly<Record<ModelName, FitFamily>> = {
  log_normal: logNormalFamily(1),
  weibull: weibullFamily,
  two_modes: logNormalFamily(2),
  three_modes: logNormalFamily(3),
};

/** Number of parameters of a model. */
export const parametersOf = (name: ModelName): number => FAMILIES[name].parameters;

/** A model fitted to classes. */
export interface Fitted {
  name: ModelName;
  model: SizeModel;
  /** Σ w ln p, per unit of mass. */
  likelihood: number;
  /** Sum of squares of the cumulative undersize at the limits. */
  squares: number;
  converged: boolean;
}

/** Places that are followed to their ends. */
const FOLLOWED = 2;

/** How far beyond the outermost limits a median is believed, as a factor. */
const BEYOND = 3;

const rangeOf = (logLimits: Float64Array): readonly [number, number] => [
  logLimits[0]! - Math.log(BEYOND),
  logLimits[logLimits.length - 1]! + Math.log(BEYOND),
];

/**
 * Fits a model to classes: by likelihood (the default: every class counts by its mass) or by least squares on the cumulative
 * curve. Mixtures start from several places and the best end is kept; `start` takes one place instead. Null when the classes are
 * fewer than the parameters need.
 */
export function fitModel(
  binned: Binned,
  name: ModelName,
  { by = 'likelihood', start }: { by?: 'likelihood' | 'squares'; start?: SizeModel } = {},
): Fitted | null {
  const family = FAMILIES[name];
  if (binned.limits.length < family.parameters || filled(binned) < 2) return null;
  const logLimits = binned.limits.map(Math.log);
  const measured = undersizes(binned);
  const range = rangeOf(logLimits);
  const starts = start ? [start] : startsOf(binned, name);
  const up = (theta: Float64Array, steps?: number) =>
    by === 'likelihood'
      ? climbLikelihood(family, theta, logLimits, binned.share, range, steps)
      : climbLeastSquares(family, theta, logLimits, measured, range, steps);
  const places = starts.map((model) => family.fromModel(model));
  // A few steps from everywhere; only the most promising are followed to their ends.
  const chosen =
    places.length <= FOLLOWED
      ? places
      : places
          .map((theta) => up(theta, FIRST_STEPS))
          .sort((a, b) => b.value - a.value)
          .slice(0, FOLLOWED)
          .map((end) => end.theta);
  const ends = chosen.map((theta) => up(theta));
  const best = ends.reduce((a, b) => (b.value > a.value ? b : a));
  return finish(family, name, best, logLimits, binned, measured);
}

/** Classes that hold anything. */
const filled = ({ share }: Binned): number => share.filter((x) => x > 0).length;

function finish(
  family: FitFamily,
  name: ModelName,
  end: Climbed,
  logLimits: Float64Array,
  { share }: Binned,
  measured: Float64Array,
): Fitted {
  const J = logLimits.length;
  const below = new Float64Array(J);
  family.evaluate(end.theta, logLimits, below, new Float64Array(J * family.parameters));
  let likelihood = 0;
  let squares = 0;
  for (let j = 0; j <= J; j++) {
    const p = Math.max(1e-300, (j < J ? below[j]! : 1) - (j > 0 ? below[j - 1]! : 0));
    if (share[j]! > 0) likelihood += share[j]! * Math.log(p);
    if (j < J) squares += (measured[j]! - below[j]!) ** 2;
  }
  return { name, model: family.toModel(end.theta), likelihood, squares, converged: end.converged };
}

/** Quantile for a start: inside an open class a little beyond its limit. */
function roughQuantile(binned: Binned, at: number): number {
  const found = binnedQuantile(binned, at);
  if (found !== null) return found;
  const { limits, share } = binned;
  return at <= share[0]! ? limits[0]! * 0.7 : limits[limits.length - 1]! * 1.2;
}

/** A mode that covers the part of the mass between two cumulative shares. */
function modeBetween(
  binned: Binned,
  from: number,
  to: number,
): { share: number; median: number; gsd: number } {
  const at = (part: number) => roughQuantile(binned, from + part * (to - from));
  const spread = Math.log(at(0.8413) / at(0.1587)) / 2;
  return { share: to - from, median: at(0.5), gsd: Math.exp(Math.min(1.2, Math.max(0.1, spread))) };
}

/** Cumulative shares at which mixtures are first cut in two or three. */
const CUTS_2 = [0.04, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.92];
const CUTS_3: readonly (readonly [number, number])[] = [
  [0.05, 0.2],
  [0.05, 0.5],
  [0.1, 0.3],
  [0.1, 0.6],
  [0.15, 0.85],
  [0.2, 0.5],
  [0.3, 0.7],
  [0.5, 0.8],
];

function startsOf(binned: Binned, name: ModelName): SizeModel[] {
  const cut = (...at: number[]): SizeModel => {
    const ends = [0, ...at, 1];
    return { family: 'log_normal', modes: at.concat(1).map((to, i) => modeBetween(binned, ends[i]!, to)) };
  };
  switch (name) {
    case 'log_normal':
      return [cut()];
    case 'two_modes':
      return CUTS_2.map((at) => cut(at));
    case 'three_modes':
      return CUTS_3.map((at) => cut(...at));
    case 'weibull':
      return [{ family: 'weibull', scale: roughQuantile(binned, 1 - Math.exp(-1)), shape: 2.5 }];
  }
}

/**
 * Weibull's parameters from the straight line of ln(−ln R) over ln d, the way of probability paper: R is the share retained. Limits
 * with R of 0 or 1 have to be left out and the tails weigh too much, so this is for comparison with older figures only.
 */
export function weibullByLine(binned: Binned): SizeModel | null {
  const below = undersizes(binned);
  const points = Array.from(below, (q, j) => ({ x: Math.log(binned.limits[j]!), r: 1 - q }))
    .filter(({ r }) => r > 0 && r < 1)
    .map(({ x, r }) => ({ x, y: Math.log(-Math.log(r)) }));
  if (points.length < 2) return null;
  const mean = (pick: (p: { x: number; y: number }) => number) =>
    points.reduce((sum, p) => sum + pick(p), 0) / points.length;
  const [mx, my] = [mean((p) => p.x), mean((p) => p.y)];
  const shape = mean((p) => (p.x - mx) * (p.y - my)) / mean((p) => (p.x - mx) ** 2);
  return { family: 'weibull', shape, scale: Math.exp(mx - my / shape) };
}

/** Weibull's distribution through two points of the retained share R: k = ln(ln R₂/ln R₁)/ln(d₂/d₁). */
export function weibullThrough(
  first: { diameter: number; retained: number },
  second: { diameter: number; retained: number },
): SizeModel {
  const shape =
    Math.log(Math.log(second.retained) / Math.log(first.retained)) /
    Math.log(second.diameter / first.diameter);
  return { family: 'weibull', shape, scale: first.diameter / (-Math.log(first.retained)) ** (1 / shape) };
}
