import { sobolPoints } from '../../brew/sampling/sobol.ts';
import { chanceFrom } from '../../panel/random.ts';
import { settable } from '../design/run-sheet.ts';
import type { DesignFactor } from '../design/types.ts';

/** Points all over the range, and steps around each of the best brews. */
const SPREAD = 256;
const AROUND = 60;
const NEAR = [0.05, 0.12, 0.25];

/** Levels as parts of their ranges. */
export const partsOf = (factors: readonly DesignFactor[], levels: readonly number[]): number[] =>
  factors.map(({ low, high }, i) => (high > low ? (levels[i]! - low) / (high - low) : 0));

/** Levels that can be set, from parts of their ranges. */
export const levelsAt = (factors: readonly DesignFactor[], parts: readonly number[]): number[] =>
  factors.map((factor, i) => {
    const { low, high } = factor;
    return Math.min(
      high,
      Math.max(low, settable(factor, low + Math.min(1, Math.max(0, parts[i]!)) * (high - low))),
    );
  });

/** Levels worth looking at: spread over the whole range, and near the best brews; each as it can be set, none twice. */
export function candidateLevels(
  factors: readonly DesignFactor[],
  near: readonly (readonly number[])[],
  seed: number,
): number[][] {
  const k = factors.length;
  const points = sobolPoints(SPREAD, k, seed);
  const chance = chanceFrom(seed);
  const found = Array.from({ length: SPREAD }, (_, i) => [...points.subarray(i * k, (i + 1) * k)]);
  found.push(new Array<number>(k).fill(0.5));
  for (const levels of near) {
    const parts = partsOf(factors, levels);
    for (let i = 0; i < k; i++)
      for (const by of NEAR)
        for (const side of [-1, 1]) found.push(parts.map((v, j) => (j === i ? v + side * by : v)));
    for (let n = 0; n < AROUND; n++) {
      const reach = NEAR[n % NEAR.length]!;
      found.push(parts.map((v) => v + (reach * chance.whole(-1000, 1000)) / 1000));
    }
  }
  const all = found.map((parts) => levelsAt(factors, parts));
  return [...new Map(all.map((levels) => [levels.map((v) => v.toFixed(9)).join(), levels])).values()];
}
