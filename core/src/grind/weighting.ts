import type { Binned } from './binned.ts';
import { normalCdf, normalQuantile } from './special.ts';

/** What a distribution counts: grains (r = 0), their area (2) or their volume, which is mass (3); ISO 9276-1, from memory. */
export const WEIGHTINGS = { number: 0, area: 2, volume: 3 } as const;
export type Weighting = keyof typeof WEIGHTINGS;

/** Which size stands for a whole class. */
export type Representative = 'geometric' | 'arithmetic';

/** The size that stands for each class [m], J + 1; an open class is taken to end a factor of 2 beyond its limit. */
export function classSizes({ limits }: Binned, representative: Representative = 'geometric'): Float64Array {
  const J = limits.length;
  const middle = (low: number, high: number) =>
    representative === 'geometric' ? Math.sqrt(low * high) : (low + high) / 2;
  return Float64Array.from({ length: J + 1 }, (_, j) =>
    middle(j === 0 ? limits[0]! / 2 : limits[j - 1]!, j === J ? 2 * limits[J - 1]! : limits[j]!),
  );
}

/**
 * The same classes counted otherwise: q_r ∝ d^(r−s) q_s, each class by the size that stands for it. Wide classes bias this: see
 * {@link conversionBias}.
 */
export function reweigh(
  binned: Binned,
  from: Weighting,
  to: Weighting,
  representative: Representative = 'geometric',
): Binned {
  const power = WEIGHTINGS[to] - WEIGHTINGS[from];
  const sizes = classSizes(binned, representative);
  const raw = binned.share.map((x, j) => x * sizes[j]! ** power);
  const total = raw.reduce((sum, x) => sum + x, 0);
  return { limits: binned.limits, share: raw.map((x) => x / total) };
}

/**
 * By how much converting wide classes misjudges the share of one of them, as a factor: for mass spread evenly over ln d in a class
 * of ratio b, the mean of d^k is (b^(k/2) − b^(−k/2))/(k ln b) times that of its geometric middle: 1.011 for b = ⁴√2 and k = 3, 1.046 for √2, 1.19
 * for 2.
 */
export function conversionBias(ratio: number, from: Weighting, to: Weighting): number {
  const k = WEIGHTINGS[to] - WEIGHTINGS[from];
  const h = (k * Math.log(ratio)) / 2;
  return Math.abs(h) < 1e-9 ? 1 : Math.sinh(h) / h;
}

/** The fewest coarsest classes that carry at least half the volume, and how much they hold in the counting they came in. */
export function coarsestCarry(
  counted: Binned,
  volume: Binned,
): { classes: number; counted: number; volume: number } {
  const sum = { classes: 0, counted: 0, volume: 0 };
  for (let j = volume.share.length - 1; j >= 0 && sum.volume < 0.5; j--) {
    if (volume.share[j] === 0) continue;
    sum.classes++;
    sum.counted += counted.share[j]!;
    sum.volume += volume.share[j]!;
  }
  return sum;
}

/**
 * Share of the volume that the coarsest part `top` of the grains by number carries, for sizes log-normal by number with spread s =
 * ln(gsd): Φ(3s − z), z the normal quantile of 1 − top. 20 % for the coarsest 1 % at s = 0.5.
 */
export const volumeInCoarsest = (spread: number, top: number): number =>
  normalCdf(3 * spread - normalQuantile(1 - top));

/** Mean diameters and volume shares of a histogram of counts. */
export interface HistogramFigures {
  /** D[p,q] as a function [same unit as the sizes]. */
  mean: (p: number, q: number) => number;
  number_share: number[];
  volume_share: number[];
  /** Relative standard error of each class's volume from counting alone, 1/√n. */
  counting_error: number[];
}

/** Figures of counts at sizes that stand for classes; any unit. */
export function histogramFigures(sizes: readonly number[], counts: readonly number[]): HistogramFigures {
  const moment = (power: number) => counts.reduce((sum, n, i) => sum + n * sizes[i]! ** power, 0);
  const [number, volume] = [moment(0), moment(3)];
  return {
    mean: (p, q) => (moment(p) / moment(q)) ** (1 / (p - q)),
    number_share: counts.map((n) => n / number),
    volume_share: counts.map((n, i) => (n * sizes[i]! ** 3) / volume),
    counting_error: counts.map((n) => (n > 0 ? 1 / Math.sqrt(n) : Number.NaN)),
  };
}
