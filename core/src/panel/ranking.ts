import { chiSquaredAbove, normalCdf, normalQuantile, tQuantile } from './distributions.ts';
import { chanceFrom } from './random.ts';
import { arrangements, columnSquaresP, DRAWS, type PermutationP } from './row-permutations.ts';

/** Ranks of a list from smallest, 1, to largest; equal values share the mean of their ranks. */
export function midRanks(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return values.map((v) => (sorted.indexOf(v) + sorted.lastIndexOf(v)) / 2 + 1);
}

/** Friedman's test with what follows from it. */
export interface Ranking {
  tasters: number;
  cups: number;
  rank_sums: number[];
  /** Friedman's statistic, corrected for ties. */
  statistic: number;
  df: number;
  /** By the χ² distribution: rough for small panels. */
  p_chi_squared: number;
  /** By going through arrangements: the one to trust. */
  p: PermutationP;
  /** Kendall's W: agreement of the tasters, from 0 to 1. */
  concordance: number;
  /** Least difference of two rank sums at `alpha`, pair by pair: ISO 8587 (normal). */
  least_difference: number;
  /** The same by Conover, with more power; null when all tasters agree fully, where it has no error left. */
  least_difference_conover: number | null;
}

/** Parts of Friedman's statistic that depend on the table only. */
export function friedmanStatistic(
  rankSums: readonly number[],
  tasters: number,
  ties = 0,
): { statistic: number; df: number; p: number } {
  const cups = rankSums.length;
  const squares = rankSums.reduce((t, r) => t + r * r, 0);
  const plain = (12 * squares) / (tasters * cups * (cups + 1)) - 3 * tasters * (cups + 1);
  const statistic = plain / (1 - ties / (tasters * cups * (cups * cups - 1)));
  return { statistic, df: cups - 1, p: chiSquaredAbove(statistic, cups - 1) };
}

/** Least difference of two rank sums at level `alpha`: z √(J P (P+1)/6). ISO 8587. */
export const leastRankDifference = (tasters: number, cups: number, alpha: number): number =>
  -normalQuantile(alpha / 2) * Math.sqrt((tasters * cups * (cups + 1)) / 6);

/** Σ (t³ − t) over the groups of equal values in one row. */
function tieTerm(row: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const v of row) counts.set(v, (counts.get(v) ?? 0) + 1);
  return [...counts.values()].reduce((t, n) => t + n ** 3 - n, 0);
}

/**
 * Friedman's test of a ranking: do the cups differ at all, by chi-square and by exact or permutation p; agreement; least
 * differences. ISO 8587; Conover's difference from memory.
 * @param scores [tasters][cups]; ranks, or any scores, larger meaning more. Every taster judged every cup.
 */
export function friedman(scores: readonly (readonly number[])[], alpha = 0.05, seed = 1): Ranking {
  const ranks = scores.map(midRanks);
  const tasters = ranks.length;
  const cups = ranks[0]!.length;
  const sums = ranks[0]!.map((_, c) => ranks.reduce((t, row) => t + row[c]!, 0));
  const ties = ranks.reduce((t, row) => t + tieTerm(row), 0);
  const allTied = ties >= tasters * cups * (cups * cups - 1);
  const { statistic, df, p } = allTied
    ? { statistic: 0, df: cups - 1, p: 1 }
    : friedmanStatistic(sums, tasters, ties);
  return {
    tasters,
    cups,
    rank_sums: sums,
    statistic,
    df,
    p_chi_squared: p,
    p: allTied ? { p: 1, from: 'all' } : columnSquaresP(ranks, chanceFrom(seed)),
    concordance: statistic / (tasters * (cups - 1)),
    least_difference: leastRankDifference(tasters, cups, alpha),
    least_difference_conover: conover(ranks, statistic, alpha),
  };
}

/** t √(2J(A − C)/((J−1)(P−1)) · (1 − F/(J(P−1)))), A = Σ ranks², C = J P (P+1)²/4. */
function conover(ranks: readonly (readonly number[])[], statistic: number, alpha: number): number | null {
  const tasters = ranks.length;
  const cups = ranks[0]!.length;
  const df = (tasters - 1) * (cups - 1);
  const squares = ranks.reduce((t, row) => t + row.reduce((s, v) => s + v * v, 0), 0);
  const centre = (tasters * cups * (cups + 1) ** 2) / 4;
  const left = 1 - statistic / (tasters * (cups - 1));
  if (df < 1 || left <= 1e-12) return null;
  return tQuantile(1 - alpha / 2, df) * Math.sqrt(((2 * tasters * (squares - centre)) / df) * left);
}

/** Pairs of cups whose rank sums differ by at least `least`: indices and difference. */
export function pairsApart(
  rankSums: readonly number[],
  least: number,
): { first: number; second: number; difference: number }[] {
  return rankSums.flatMap((a, first) =>
    rankSums
      .map((b, second) => ({ first, second, difference: a - b }))
      .filter(({ second, difference }) => second > first && Math.abs(difference) >= least),
  );
}

/** Page's test against an order that was predicted. */
export interface PageTest {
  statistic: number;
  /** Standardised, and its upper normal tail: rough for small panels. */
  z: number;
  p_normal: number;
  /** Exact up to seven cups, otherwise by random arrangements. */
  p: PermutationP;
}

/**
 * Page's test: do the cups rise in the order in which they stand in the table, first lowest? Statistic Σ i·Rᵢ; mean J P(P+1)²/4,
 * standard deviation P(P+1)√(J(P−1))/12. The exact p goes through all orders of every row, ties included.
 * @param scores [tasters][cups], cups in the predicted order
 */
export function pageTest(scores: readonly (readonly number[])[], seed = 1): PageTest {
  const ranks = scores.map(midRanks);
  const tasters = ranks.length;
  const cups = ranks[0]!.length;
  const weigh = (row: readonly number[]) => row.reduce((t, v, i) => t + Math.round(2 * v) * (i + 1), 0);
  const seen = ranks.reduce((t, row) => t + weigh(row), 0);
  const mean = (tasters * cups * (cups + 1) ** 2) / 4;
  const sd = (cups * (cups + 1) * Math.sqrt(tasters * (cups - 1))) / 12;
  const z = (seen / 2 - mean) / sd;
  return { statistic: seen / 2, z, p_normal: normalCdf(-z), p: pageP(ranks, seen, weigh, seed) };
}

function pageP(
  ranks: readonly (readonly number[])[],
  seen: number,
  weigh: (row: readonly number[]) => number,
  seed: number,
): PermutationP {
  if (ranks[0]!.length > 7) {
    const chance = chanceFrom(seed);
    const work = ranks.map((row) => [...row]);
    let reached = 1;
    for (let draw = 0; draw < DRAWS; draw++)
      if (work.reduce((t, row) => t + weigh(chance.shuffle(row)), 0) >= seen) reached++;
    return { p: reached / (DRAWS + 1), from: DRAWS };
  }
  let total = new Map<number, number>([[0, 1]]);
  for (const row of ranks) {
    const orders = arrangements(row).map(weigh);
    const one = new Map<number, number>();
    for (const v of orders) one.set(v, (one.get(v) ?? 0) + 1 / orders.length);
    const next = new Map<number, number>();
    for (const [a, pa] of total) for (const [b, pb] of one) next.set(a + b, (next.get(a + b) ?? 0) + pa * pb);
    total = next;
  }
  let p = 0;
  for (const [value, chance] of total) if (value >= seen) p += chance;
  return { p: Math.min(1, p), from: 'all' };
}
