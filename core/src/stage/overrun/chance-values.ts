import { normalQuantile } from '../../panel/distributions.ts';
import type { Chance } from '../../panel/random.ts';

/** A number strictly between 0 and 1, every value equally likely. */
export const uniform = (chance: Chance): number => (chance.whole(0, 2 ** 30 - 1) + 0.5) / 2 ** 30;

/** A standard normal number. */
export const normal = (chance: Chance): number => normalQuantile(uniform(chance));

/** A gamma number of shape ≥ 1 and scale 1 (Marsaglia & Tsang 2000, from memory). */
export function gamma(chance: Chance, shape: number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(chance);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(uniform(chance)) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** A beta number with both shapes ≥ 1. */
export function beta(chance: Chance, a: number, b: number): number {
  const x = gamma(chance, a);
  return x / (x + gamma(chance, b));
}
