import { leastP } from './label-permutations.ts';
import type { RepeatBrews } from './types.ts';

/** More repeats of each plan than these are not proposed. */
export const MOST_REPEATS = 12;

/** Order of `each` + `each` brews in which a steady drift cancels: a b b a, the halves mirrored. */
export function swappedOrder(each: number): ('a' | 'b')[] {
  return Array.from({ length: each }, (_, k): ('a' | 'b')[] =>
    k % 2 === 0 ? ['a', 'b'] : ['b', 'a'],
  ).flat();
}

/**
 * The fewest brews of both plans in one sitting, two of each at least so that their order can be swapped, after which an exact
 * test of everything could reach the level and the difference seen would be two standard errors; null when that is more than
 * {@link MOST_REPEATS} of each.
 * @param counts brews of each sitting that hold both plans, or of all together
 */
export function repeatBrews(
  counts: readonly { a: number; b: number }[],
  difference: number,
  sd: number,
  alpha: number,
  dose_g: number | null,
): RepeatBrews | null {
  const a = counts.reduce((t, c) => t + c.a, 0);
  const b = counts.reduce((t, c) => t + c.b, 0);
  for (let each = 2; each <= MOST_REPEATS; each++) {
    const least = leastP([...counts, { a: each, b: each }]);
    const limit = 2 * sd * Math.sqrt(1 / (a + each) + 1 / (b + each));
    if (least > alpha || !(limit <= Math.abs(difference))) continue;
    return {
      each,
      order: swappedOrder(each),
      grams: dose_g === null ? null : 2 * each * dose_g,
      least_p: least,
      limit_alone: 2 * sd * Math.sqrt(2 / each),
    };
  }
  return null;
}
