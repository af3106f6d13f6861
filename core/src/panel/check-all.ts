import { binomialAtLeast, chiSquaredAbove } from './distributions.ts';
import { chanceFrom } from './random.ts';
import { columnSquaresP, type PermutationP } from './row-permutations.ts';

/** One word of a check-all-that-apply ballot over several cups. */
export interface WordTest {
  word: string;
  /** Ticks of each cup. */
  ticks: number[];
  /** Cochran's Q, its χ² p (rough for few tasters) and its exact or permutation p. */
  statistic: number;
  df: number;
  p_chi_squared: number;
  p: PermutationP;
  /** p after Holm's correction for the number of words asked. */
  p_holm: number;
}

/**
 * Cochran's Q: is a word ticked more for some cups than for others? Q = (k−1)(k ΣG² − T²)/(k T − ΣL²), G ticks of a cup, L of
 * a taster. Cochran 1950 (from memory).
 * @param ticks [tasters][cups], 1 for ticked, 0 for not
 */
export function cochran(
  ticks: readonly (readonly number[])[],
  seed = 1,
): { ticks: number[]; statistic: number; df: number; p_chi_squared: number; p: PermutationP } {
  const cups = ticks[0]!.length;
  const columns = ticks[0]!.map((_, c) => ticks.reduce((t, row) => t + row[c]!, 0));
  const rows = ticks.map((row) => row.reduce((t, v) => t + v, 0));
  const total = columns.reduce((a, b) => a + b, 0);
  const left = cups * total - rows.reduce((t, v) => t + v * v, 0);
  if (left === 0)
    return { ticks: columns, statistic: 0, df: cups - 1, p_chi_squared: 1, p: { p: 1, from: 'all' } };
  const statistic = ((cups - 1) * (cups * columns.reduce((t, v) => t + v * v, 0) - total * total)) / left;
  return {
    ticks: columns,
    statistic,
    df: cups - 1,
    p_chi_squared: chiSquaredAbove(statistic, cups - 1),
    // Rows with all cups ticked or none say nothing.
    p: columnSquaresP(
      ticks.filter((_, i) => rows[i]! > 0 && rows[i]! < cups),
      chanceFrom(seed),
    ),
  };
}

/**
 * Every word of a check-all-that-apply ballot, with p corrected for having asked about several (Holm 1979, from memory).
 * @param ballots word → [tasters][cups] of 0 or 1
 */
export function checkAll(
  ballots: readonly { word: string; ticks: readonly (readonly number[])[] }[],
  seed = 1,
): WordTest[] {
  const tests = ballots.map(({ word, ticks }) => ({ word, ...cochran(ticks, seed) }));
  const corrected = holm(tests.map(({ p }) => p.p));
  return tests.map((test, i) => ({ ...test, p_holm: corrected[i]! }));
}

/** p values corrected for their number by Holm's step-down rule. */
export function holm(ps: readonly number[]): number[] {
  const order = ps.map((_, i) => i).sort((a, b) => ps[a]! - ps[b]!);
  const out = new Array<number>(ps.length).fill(1);
  let floor = 0;
  order.forEach((index, rank) => {
    floor = Math.max(floor, Math.min(1, ps[index]! * (ps.length - rank)));
    out[index] = floor;
  });
  return out;
}

/** Exact McNemar test, two-sided, of two cups on one word: `only_first` and `only_second` tasters ticked it for one cup only. */
export const mcNemar = (only_first: number, only_second: number): number =>
  Math.min(1, 2 * binomialAtLeast(Math.max(only_first, only_second), only_first + only_second, 0.5));
