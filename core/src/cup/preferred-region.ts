import type { Matrix } from 'ml-matrix';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import {
  afterOneMore,
  type CupPlace,
  factorOf,
  type LikedCup,
  type LikingPosterior,
  likingPosteriors,
} from './liking-process.ts';
import { type CupRemark, cupRemark, toDecimals } from './sentences.ts';

/** Where a person likes cups of this coffee best, as far as their marks say. Grids are row by row: `[yield][strength]`. */
export interface PreferredRegion {
  /** `few`: nothing can be said. `flat`: no preference shows. `edge`: the best place lies at the edge of what was tasted. */
  verdict: 'few' | 'flat' | 'edge' | 'wide' | 'settled';
  cups: number;
  strength_pct: readonly number[];
  yield_pct: readonly number[];
  /** Liking expected there, and its standard deviation. Empty for too few cups. */
  mean: Float64Array;
  sd: Float64Array;
  /** Probability that a place is within half a mark of the best there is. */
  near_best: Float64Array;
  /** Null for too few cups. Ranges hold eight in ten of the places that may be the best. */
  best: {
    strength_pct: number;
    yield_pct: number;
    liking: number;
    liking_sd: number;
    strength_range_pct: readonly [number, number];
    yield_range_pct: readonly [number, number];
    /** What choosing this place may cost against the best there is, in marks, on average. */
    regret: number;
  } | null;
  /** Standard deviation of one mark, as they scatter about the surface; null for too few. */
  noise: number | null;
  /** About how many more cups settle it to half a mark; null when even `MOST_MORE` would not. */
  more: number | null;
  remarks: readonly CupRemark[];
}

/** Places along each side of the grid. */
const SIDE = 13;
const DRAWS = 300;
/** Nothing is said of fewer cups than this. */
const LEAST_CUPS = 5;
/** The latest so many marks are used: older ones belong to a palate of then. */
const MOST_CUPS = 150;
/** What counts as near the best, and as settled [marks]. */
const NEAR = 0.5;
/** Cups that one may be asked for at most. */
const MOST_MORE = 40;
/** How far the plane is drawn around what was tasted, %. */
const MARGIN = { strength: 0.15, yield: 1.5 };

/**
 * Learns the preferred region of strength and yield from marks: a Gaussian process over all plausible scales, 300 draws of the whole surface, and
 * from these where the best place may be. Says `flat` when a constant explains the marks better than any surface. Same marks and seed, same answer.
 */
export function preferredRegion(all: readonly LikedCup[], seed = 1): PreferredRegion {
  const cups = all.slice(-MOST_CUPS);
  const strength_pct = sideOf(
    cups.map((cup) => cup.strength_pct),
    MARGIN.strength,
    [1.1, 1.6],
  );
  const yield_pct = sideOf(
    cups.map((cup) => cup.yield_pct),
    MARGIN.yield,
    [17, 23],
  );
  const places: CupPlace[] = yield_pct.flatMap((y) =>
    strength_pct.map((s) => ({ strength_pct: s, yield_pct: y })),
  );
  const bare = { cups: all.length, strength_pct, yield_pct };
  if (cups.length < LEAST_CUPS) {
    const more = LEAST_CUPS - cups.length;
    const remark = cupRemark('note', 'liking_few', { count: cups.length, more });
    const empty = new Float64Array(0);
    return {
      ...bare,
      verdict: 'few',
      mean: empty,
      sd: empty,
      near_best: empty,
      best: null,
      noise: null,
      more,
      remarks: [remark],
    };
  }
  const posteriors = likingPosteriors(cups, places);
  const { mean, sd } = mixed(posteriors, places.length);
  const top = indexOfMost(mean);
  const drawn = drawSurfaces(posteriors, top, seed);
  const noise = Math.sqrt(posteriors.reduce((sum, p) => sum + p.weight * p.scales.noise ** 2, 0));
  const flat = posteriors.reduce((sum, p) => sum + (p.scales.bend === 0 ? p.weight : 0), 0);
  const best = {
    ...places[top]!,
    liking: mean[top]!,
    liking_sd: sd[top]!,
    strength_range_pct: range(drawn.bests.map((k) => places[k]!.strength_pct)),
    yield_range_pct: range(drawn.bests.map((k) => places[k]!.yield_pct)),
    regret: drawn.regret,
  };
  const verdict = verdictOf(flat, drawn.regret, best, cups);
  const more = verdict === 'settled' ? 0 : moreCups(posteriors, mean, drawn, seed);
  return {
    ...bare,
    verdict,
    mean,
    sd,
    near_best: drawn.near,
    best,
    noise,
    more,
    remarks: remarksOf(verdict, cups.length, more, noise),
  };
}

function sideOf(values: readonly number[], margin: number, usual: readonly [number, number]): number[] {
  const [low, high] =
    values.length > 0 ? [Math.min(...values) - margin, Math.max(...values) + margin] : usual;
  return Array.from({ length: SIDE }, (_, i) => low + ((high - low) * i) / (SIDE - 1));
}

function mixed(posteriors: readonly LikingPosterior[], n: number): { mean: Float64Array; sd: Float64Array } {
  const mean = new Float64Array(n);
  const square = new Float64Array(n);
  for (const { weight, mean: m, covariance } of posteriors)
    for (let k = 0; k < n; k++) {
      mean[k]! += weight * m[k]!;
      square[k]! += weight * (m[k]! ** 2 + Math.max(0, covariance.get(k, k)));
    }
  return { mean, sd: square.map((s, k) => Math.sqrt(Math.max(0, s - mean[k]! ** 2))) };
}

/** Draws whole surfaces, each choice of scales as often as its weight says. */
function drawSurfaces(posteriors: readonly LikingPosterior[], top: number, seed: number) {
  const normal = normals(seed);
  const n = posteriors[0]!.mean.length;
  const near = new Float64Array(n);
  const bests: number[] = [];
  let regret = 0;
  let count = 0;
  for (const { weight, mean, covariance, scales } of posteriors) {
    const draws = Math.round(DRAWS * weight);
    if (draws === 0) continue;
    const factor = scales.bend === 0 ? null : factorOf(covariance);
    for (let d = 0; d < draws; d++) {
      const surface = factor ? surfaceOf(mean, factor, normal) : mean;
      const best = scales.bend === 0 ? Math.floor(((count + 0.5) * 7919) % n) : indexOfMost(surface);
      bests.push(best);
      const most = factor ? surface[best]! : mean[0]!;
      regret += most - (factor ? surface[top]! : most);
      for (let k = 0; k < n; k++) if (!factor || surface[k]! > most - NEAR) near[k]!++;
      count++;
    }
  }
  return { near: near.map((c) => c / Math.max(1, count)), bests, regret: regret / Math.max(1, count) };
}

function surfaceOf(mean: Float64Array, factor: Matrix, normal: () => number): Float64Array {
  const n = mean.length;
  const z = Float64Array.from({ length: n }, normal);
  const surface = mean.slice();
  for (let i = 0; i < n; i++) {
    const row = factor.getRow(i);
    for (let j = 0; j <= i; j++) surface[i]! += row[j]! * z[j]!;
  }
  return surface;
}

/** Normal numbers from a seed (Box and Muller 1958). */
function normals(seed: number): () => number {
  const generator = xoroshiro128plus(seed);
  const unit = () => uniformFloat64(generator);
  for (let i = 0; i < 20; i++) unit();
  return () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit());
}

type Best = NonNullable<PreferredRegion['best']>;

function verdictOf(
  flat: number,
  regret: number,
  best: Best,
  cups: readonly LikedCup[],
): PreferredRegion['verdict'] {
  if (flat > 0.5) return 'flat';
  const inside = (value: number, all: readonly number[]) =>
    value > Math.min(...all) && value < Math.max(...all);
  const within =
    inside(
      best.strength_pct,
      cups.map((cup) => cup.strength_pct),
    ) &&
    inside(
      best.yield_pct,
      cups.map((cup) => cup.yield_pct),
    );
  if (!within) return 'edge';
  return regret < NEAR ? 'settled' : 'wide';
}

/**
 * Cups that would bring the expected regret below half a mark, each brewed where the surface is least known among places that may be the best. How
 * much a mark narrows the surface does not depend on the mark; that the top stays where it is, is an assumption, so this says `about`.
 */
function moreCups(
  posteriors: readonly LikingPosterior[],
  mean: Float64Array,
  { near, regret }: { near: Float64Array; regret: number },
  seed: number,
): number | null {
  const bent = posteriors.filter(({ scales }) => scales.bend > 0);
  const likely = bent.toSorted((a, b) => b.weight - a.weight)[0];
  if (!likely) return null;
  const covariance = likely.covariance.clone();
  const top = indexOfMost(mean);
  // Under one choice of scales the regret is less than over all of them; it is taken to shrink in proportion.
  const now = regretOf(likely.mean, covariance, top, seed);
  const enough = now > 0 ? now * Math.min(1, NEAR / Math.max(NEAR, regret)) : 0;
  const steps = [1, 2, 3, 5, 8, 12, 18, 26, MOST_MORE];
  for (let added = 1, step = 0; step < steps.length; added++) {
    const place = indexOfMost(near.map((p, k) => p * covariance.get(k, k)));
    afterOneMore(covariance, place, likely.scales.noise);
    if (added < steps[step]!) continue;
    step++;
    if (regretOf(likely.mean, covariance, top, seed) < Math.min(NEAR, enough)) return added;
  }
  return null;
}

function regretOf(mean: Float64Array, covariance: Matrix, top: number, seed: number): number {
  const normal = normals(seed);
  const factor = factorOf(covariance);
  let regret = 0;
  const draws = 60;
  for (let d = 0; d < draws; d++) {
    const surface = surfaceOf(mean, factor, normal);
    regret += surface[indexOfMost(surface)]! - surface[top]!;
  }
  return regret / draws;
}

function remarksOf(
  verdict: PreferredRegion['verdict'],
  count: number,
  more: number | null,
  noise: number,
): CupRemark[] {
  if (verdict === 'settled') return [cupRemark('note', 'liking_settled', { count })];
  const found: CupRemark[] = [];
  if (verdict === 'edge') found.push(cupRemark('caution', 'liking_edge'));
  if (more === null)
    found.push(cupRemark('caution', 'liking_capped', { more: MOST_MORE, noise: toDecimals(noise, 1) }));
  else found.push(cupRemark('note', verdict === 'flat' ? 'liking_flat' : 'liking_wide', { more }));
  return found;
}

function range(values: readonly number[]): [number, number] {
  const sorted = values.toSorted((a, b) => a - b);
  return [
    sorted[Math.floor(0.1 * (sorted.length - 1))] ?? 0,
    sorted[Math.ceil(0.9 * (sorted.length - 1))] ?? 0,
  ];
}

function indexOfMost(values: Float64Array): number {
  let best = 0;
  for (let k = 1; k < values.length; k++) if (values[k]! > values[best]!) best = k;
  return best;
}
