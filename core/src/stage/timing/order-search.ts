import { type Model, modelOf } from './model.ts';
import { assertNetwork, endOf, type Network, type Starts } from './network.ts';
import { type Found, search } from './search.ts';

/** "No bound": far below any sum of lengths, and still exact when two of them are added. */
const NONE = -1_000_000_000;

/**
 * Least distances between all starts: entry [a × size + b] is the least that start b lies after start a, by all lags and decided orders. Node 0 is
 * the beginning of the clock, node i + 1 task i.
 */
interface Distances {
  size: number;
  least: Int32Array;
}

interface OrderRun {
  network: Network;
  pairs: Int32Array;
  durations: Int32Array;
  effort: number;
  deadEnds: number;
  /** Entries of distances looked at: what a dead end costs grows with the network, so this is bounded as well. */
  work: number;
}

/**
 * Schedules by deciding which of two tasks comes first, pair by pair, with all distances kept exact. Where every clash is a clash of two (one
 * pair of hands, one voice), this needs no moments at all, so that a proof does not depend on how fine the clock is. Other networks go
 * to the search over moments.
 *
 * @param aim `end`: shortened until proven or the effort is used up, to `step`; `any`: the first that is found
 */
export function findByOrder(
  network: Network,
  aim: 'end' | 'any',
  { effort = 20_000, step = 1 }: { effort?: number; step?: number } = {},
): Found {
  assertNetwork(network);
  const model = modelOf(network);
  if (!isPairwise(model)) return search(network, { what: aim }, { effort, step });
  if (model.pools.some(({ capacity, needs }) => needs.some((need) => need > capacity)))
    return { answer: 'none', starts: null, value: null, bound: null, deadEnds: 0 };
  const run: OrderRun = {
    network,
    pairs: model.apart,
    durations: model.durations,
    effort,
    deadEnds: 0,
    work: 0,
  };
  let best: Starts | null = null;
  let limit = network.limit;
  for (;;) {
    const root = rootDistances({ ...network, limit });
    const starts = root && explore(run, root);
    const spent = isSpent(run);
    if (starts) best = starts;
    const value = best && endOf(network, best);
    if (starts && aim === 'end' && value! > 0) {
      limit = value! - step;
      if (limit >= 0) continue;
    }
    const proven = aim === 'end' && !spent;
    const answer = best ? (proven ? 'best' : 'some') : spent ? 'open' : 'none';
    return { answer, starts: best, value, bound: answer === 'best' ? value : null, deadEnds: run.deadEnds };
  }
}

/** Whether any two tasks of a pool that can be overdrawn exclude each other: then pairs are all there is. */
const isPairwise = ({ pools }: Model): boolean =>
  pools.every(({ capacity, needs }) => {
    const [least, next] = [...needs].sort((a, b) => a - b);
    return least! + next! > capacity;
  });

/** Distances from lags, windows and the limit alone; null when they contradict each other. */
function rootDistances({ tasks, lags, limit }: Network): Distances | null {
  const size = tasks.length + 1;
  const least = new Int32Array(size * size).fill(NONE);
  const node = new Map(tasks.map(({ id }, i) => [id, i + 1]));
  const atLeast = (a: number, b: number, by: number): void => {
    least[a * size + b] = Math.max(least[a * size + b]!, by);
  };
  for (let i = 0; i < size; i++) atLeast(i, i, 0);
  tasks.forEach((task, i) => {
    atLeast(0, i + 1, Math.max(0, task.earliest ?? 0));
    atLeast(i + 1, 0, -Math.min(task.latest ?? limit, limit - task.duration));
  });
  for (const { from, to, min, max } of lags) {
    atLeast(node.get(from)!, node.get(to)!, min);
    if (max !== undefined) atLeast(node.get(to)!, node.get(from)!, -max);
  }
  // Longest paths between all pairs (Floyd & Warshall).
  for (let k = 0; k < size; k++) {
    for (let a = 0; a < size; a++) {
      const first = least[a * size + k]!;
      if (first <= NONE) continue;
      for (let b = 0; b < size; b++) {
        const second = least[k * size + b]!;
        if (second > NONE && first + second > least[a * size + b]!) least[a * size + b] = first + second;
      }
    }
    // Seen at once, so that a contradiction does not grow round and round.
    for (let i = 0; i < size; i++) if (least[i * size + i]! > 0) return null;
  }
  return { size, least };
}

/** Adds "b at least `by` after a" and all that follows. False when it cannot be. */
function require(run: OrderRun, { size, least }: Distances, a: number, b: number, by: number): boolean {
  if (by <= least[a * size + b]!) return true;
  run.work += size * size;
  const back = least[b * size + a]!;
  if (back > NONE && by + back > 0) return false;
  for (let i = 0; i < size; i++) {
    const before = least[i * size + a]!;
    if (before <= NONE) continue;
    for (let j = 0; j < size; j++) {
      const after = least[b * size + j]!;
      if (after > NONE && before + by + after > least[i * size + j]!)
        least[i * size + j] = before + by + after;
    }
  }
  return true;
}

/** Whether `first` may still come wholly before `second`. */
const mayPrecede = (
  { size, least }: Distances,
  durations: Int32Array,
  first: number,
  second: number,
): boolean => least[(second + 1) * size + first + 1]! <= -durations[first]!;
const precedes = (
  { size, least }: Distances,
  durations: Int32Array,
  first: number,
  second: number,
): boolean => least[(first + 1) * size + second + 1]! >= durations[first]!;

/** Entries that may be looked at for each dead end that is allowed; a choice. */
const WORK_PER_DEAD_END = 150_000;
const isSpent = ({ deadEnds, effort, work }: OrderRun): boolean =>
  deadEnds >= effort || work > effort * WORK_PER_DEAD_END;

/** Starts of a schedule below these distances, or null when there is none or the effort is used up. */
function explore(run: OrderRun, from: Distances): Starts | null {
  const stack: Distances[] = [from];
  while (stack.length > 0 && !isSpent(run)) {
    const here = stack.pop()!;
    const open = settle(run, here);
    if (open === 'none') {
      run.deadEnds++;
      continue;
    }
    if (open === 'all')
      return Object.fromEntries(run.network.tasks.map(({ id }, i) => [id, here.least[i + 1]!]));
    const [a, b] = earlierFirst(here, open);
    const { durations } = run;
    for (const [first, second] of [
      [b, a],
      [a, b],
    ] as const) {
      const next = { size: here.size, least: here.least.slice() };
      if (require(run, next, first + 1, second + 1, durations[first]!)) stack.push(next);
    }
  }
  return null;
}

const earlierFirst = ({ least }: Distances, [a, b]: readonly [number, number]): [number, number] =>
  least[a + 1]! <= least[b + 1]! ? [a, b] : [b, a];

/** Decides every pair that only one order is left for. Gives the first open pair; `all` when none is open, `none` at a dead end. */
function settle(run: OrderRun, here: Distances): 'all' | 'none' | readonly [number, number] {
  const { pairs, durations } = run;
  for (;;) {
    let open: readonly [number, number] | null = null;
    let changed = false;
    run.work += pairs.length;
    for (let p = 0; p < pairs.length; p += 2) {
      const a = pairs[p]!;
      const b = pairs[p + 1]!;
      if (precedes(here, durations, a, b) || precedes(here, durations, b, a)) continue;
      const ab = mayPrecede(here, durations, a, b);
      const ba = mayPrecede(here, durations, b, a);
      if (ab && ba) {
        open ??= [a, b];
        continue;
      }
      if (!ab && !ba) return 'none';
      const [first, second] = ab ? [a, b] : [b, a];
      if (!require(run, here, first + 1, second + 1, durations[first]!)) return 'none';
      changed = true;
    }
    if (!changed) return open ?? 'all';
  }
}
