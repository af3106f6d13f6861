import type { Binned } from './binned.ts';

/** Grains one by one. Both arrays have length n. */
export interface Grains {
  /** [m] */
  diameter: Float64Array;
  /** How many grains each stands for. */
  weight: Float64Array;
}

/** Width of the classes that grains are gathered in, as a step of ln d. */
const STEP = 0.02;

/** Gathers grains by volume (weight·d³) in narrow classes; the outermost hold nothing. */
export function binGrains({ diameter, weight }: Grains): Binned {
  const smallest = diameter.reduce((low, d) => Math.min(low, d), Number.POSITIVE_INFINITY);
  const largest = diameter.reduce((high, d) => Math.max(high, d), 0);
  const first = Math.log(smallest) - STEP / 2;
  const classes = Math.max(1, Math.ceil((Math.log(largest) - first) / STEP + 1e-9));
  const share = new Float64Array(classes + 2);
  let total = 0;
  diameter.forEach((d, i) => {
    const k = Math.min(classes - 1, Math.floor((Math.log(d) - first) / STEP));
    const volume = weight[i]! * d ** 3;
    share[k + 1] = share[k + 1]! + volume;
    total += volume;
  });
  return {
    limits: Float64Array.from({ length: classes + 1 }, (_, k) => Math.exp(first + k * STEP)),
    share: share.map((x) => x / total),
  };
}

/**
 * Independent grains that a count is worth by volume, (Σ v)²/Σ v² with v = weight·d³ (Kish's effective size, from memory): a few
 * large grains make it small however many dust grains there are.
 */
export function effectiveGrains({ diameter, weight }: Grains): number {
  let sum = 0;
  let squares = 0;
  diameter.forEach((d, i) => {
    const v = weight[i]! * d ** 3;
    sum += v;
    squares += v * v;
  });
  return (sum * sum) / squares;
}

/** D[p,q] of grains [m], every grain counting by its weight. */
export function grainMean({ diameter, weight }: Grains, p: number, q: number): number {
  let above = 0;
  let below = 0;
  diameter.forEach((d, i) => {
    above += weight[i]! * d ** p;
    below += weight[i]! * d ** q;
  });
  return (above / below) ** (1 / (p - q));
}
