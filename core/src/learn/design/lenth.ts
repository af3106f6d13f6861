import { tQuantile } from '../../panel/distributions.ts';
import type { LenthTest } from './types.ts';

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return sorted.length % 2 === 1 ? sorted[Math.floor(half)]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/**
 * Which of many effects stand out when nothing was repeated: most effects are taken to be nothing, and their median says how large
 * nothing looks. Lenth 1989 (Technometrics 31, 469–473; from memory): pseudo standard error, t on m/3 degrees of freedom. null for
 * fewer than five effects.
 */
export function lenth(effects: readonly number[], alpha = 0.05): LenthTest | null {
  const m = effects.length;
  if (m < 5) return null;
  const sizes = effects.map(Math.abs);
  const first = 1.5 * median(sizes);
  const pse = 1.5 * median(sizes.filter((size) => size <= 2.5 * first));
  const df = m / 3;
  const together = (1 + (1 - alpha) ** (1 / m)) / 2;
  return {
    pse,
    df,
    margin: tQuantile(1 - alpha / 2, df) * pse,
    simultaneous: tQuantile(together, df) * pse,
  };
}
