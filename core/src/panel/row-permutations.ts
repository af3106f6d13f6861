import type { Chance } from './random.ts';

/** How a p was found: over all arrangements, or over many drawn by chance. */
export interface PermutationP {
  p: number;
  /** 'all' arrangements, or a number of random ones. */
  from: 'all' | number;
}

/** Work allowed for going through all arrangements (states × arrangements of a row); about a second at most. */
const MOST_STEPS = 1_500_000;
/** Random arrangements when there are too many to go through. */
export const DRAWS = 20_000;

/** All different orders of a list of numbers. */
export function arrangements(row: readonly number[]): number[][] {
  const sorted = [...row].sort((a, b) => a - b);
  const found: number[][] = [];
  const used = sorted.map(() => false);
  const grow = (sofar: number[]) => {
    if (sofar.length === sorted.length) {
      found.push([...sofar]);
      return;
    }
    for (let i = 0; i < sorted.length; i++) {
      if (used[i] || (i > 0 && sorted[i] === sorted[i - 1] && !used[i - 1])) continue;
      used[i] = true;
      grow([...sofar, sorted[i]!]);
      used[i] = false;
    }
  };
  grow([]);
  return found;
}

/** How many different orders a list of numbers has. */
function arrangementCount(row: readonly number[]): number {
  const factorial = (n: number): number => (n <= 1 ? 1 : n * factorial(n - 1));
  const counts = new Map<number, number>();
  for (const v of row) counts.set(v, (counts.get(v) ?? 0) + 1);
  return [...counts.values()].reduce((n, c) => n / factorial(c), factorial(row.length));
}

function sumOfSquares(sums: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < sums.length; i++) total += sums[i]! * sums[i]!;
  return total;
}
const columnSums = (rows: readonly (readonly number[])[]) =>
  rows[0]!.map((_, c) => rows.reduce((t, r) => t + r[c]!, 0));

/**
 * Chance that the squares of the column sums add up to as much as seen or more, when every row is in random order: the exact null
 * distribution of Friedman's and of Cochran's statistic, ties included. Goes through all arrangements, column sums being
 * merged when they are the same but for order; where those are too many, `DRAWS` random arrangements are drawn and the one seen
 * counts among them (Davison & Hinkley 1997, 4.3; from memory).
 * @param rows [rows][columns]; entries are multiples of ½
 */
export function columnSquaresP(rows: readonly (readonly number[])[], chance: Chance): PermutationP {
  // Doubled, so that mean ranks are whole numbers and comparison is exact.
  const whole = rows.map((row) => row.map((v) => Math.round(2 * v)));
  const seen = sumOfSquares(columnSums(whole));
  return throughAll(whole, seen) ?? byDraws(whole, seen, chance);
}

function throughAll(rows: readonly (readonly number[])[], seen: number): PermutationP | null {
  if (rows.some((row) => row.length > scratch.length || arrangementCount(row) > 5040)) return null;
  const columns = rows[0]!.length;
  const base = 1 + Math.max(...rows.map((r) => Math.max(...r))) * rows.length;
  if (base ** columns > Number.MAX_SAFE_INTEGER) return null;
  // A state is its column sums in rising order, as the digits of one number.
  let states = new Map<number, number>([[0, 1]]);
  const sums = new Float64Array(columns);
  let steps = 0;
  const same = new Map<string, number[][]>();
  for (const row of rows) {
    const key = [...row].sort((a, b) => a - b).join();
    const orders = same.get(key) ?? arrangements(row);
    same.set(key, orders);
    steps += states.size * orders.length;
    if (steps > MOST_STEPS) return null;
    const next = new Map<number, number>();
    for (const [state, chance] of states) {
      readDigits(state, base, sums);
      for (const order of orders) {
        const added = sortedSum(sums, order, base);
        next.set(added, (next.get(added) ?? 0) + chance / orders.length);
      }
    }
    states = next;
  }
  let p = 0;
  for (const [state, chance] of states) {
    readDigits(state, base, sums);
    if (sumOfSquares(sums) >= seen) p += chance;
  }
  return { p: Math.min(1, p), from: 'all' };
}

function readDigits(state: number, base: number, into: Float64Array): void {
  let rest = state;
  for (let i = into.length - 1; i >= 0; i--) {
    const above = Math.floor(rest / base);
    into[i] = rest - above * base;
    rest = above;
  }
}

const scratch = new Float64Array(16);

/** Column sums plus one row, put in rising order and written as the digits of one number. */
function sortedSum(sums: Float64Array, order: readonly number[], base: number): number {
  const n = sums.length;
  for (let i = 0; i < n; i++) {
    const v = sums[i]! + order[i]!;
    let at = i;
    for (; at > 0 && scratch[at - 1]! > v; at--) scratch[at] = scratch[at - 1]!;
    scratch[at] = v;
  }
  let key = 0;
  for (let i = 0; i < n; i++) key = key * base + scratch[i]!;
  return key;
}

function byDraws(rows: readonly (readonly number[])[], seen: number, chance: Chance): PermutationP {
  const work = rows.map((row) => [...row]);
  let reached = 1;
  for (let draw = 0; draw < DRAWS; draw++) {
    for (const row of work) chance.shuffle(row);
    if (sumOfSquares(columnSums(work)) >= seen) reached++;
  }
  return { p: reached / (DRAWS + 1), from: DRAWS };
}
