import type { Progress } from '../brew/bands.ts';
import { makeNonNegative, type NonNegative } from './least-squares.ts';
import type { WaterProblem } from './problem-rows.ts';

/** Which items are used, and how many grams of each per kilogram for every water. */
export interface Choice {
  /** 1 for each item in use. */
  use: Uint8Array;
  /** Grams of each item per kilogram, by water. */
  grams: Float64Array[];
  /** Sum of squared misses in tolerances, by water. */
  cost: number[];
  /** Problems solved on the way. */
  solved: number;
  /** Progress said stop: the best so far is given. */
  stopped: boolean;
}

/** Above this many items, subsets are not all tried: items are taken away one by one instead. */
export const MOST_ITEMS = 14;

/**
 * Chooses the items for all waters together. Every item costs `perItem` (in squared tolerances), so that one more is only taken
 * when it brings the misses down by more than that; which is how waters come to share. Sets of equal cost are told apart by
 * price, then by their order on the shelf. All subsets are tried, smallest first, until no larger one can be better.
 */
export function chooseItems(
  problems: readonly WaterProblem[],
  items: number,
  price: (x: Float64Array, water: number) => number,
  perItem: number,
  progress?: Progress,
): Choice {
  const solvers = problems.map(({ gram }) => makeNonNegative(gram.n));
  const solveFor = (use: Uint8Array): { grams: Float64Array[]; cost: number[] } => {
    const grams: Float64Array[] = [];
    const cost: number[] = [];
    problems.forEach(({ gram }, w) => {
      const x = new Float64Array(gram.n);
      cost.push(solveSubset(solvers[w]!, gram, use, x));
      grams.push(x.slice(0, items));
    });
    return { grams, cost };
  };
  const all = new Uint8Array(items).fill(1);
  const least = sum(solveFor(all).cost);
  let best: { use: Uint8Array; grams: Float64Array[]; cost: number[] } | null = null;
  let bestScore = Number.POSITIVE_INFINITY;
  let bestPrice = Number.POSITIVE_INFINITY;
  let stopped = false;
  const consider = (use: Uint8Array): void => {
    const found = solveFor(use);
    const count = use.reduce((n, u) => n + u, 0);
    const score = sum(found.cost) + perItem * count;
    const worth = found.grams.reduce((total, x, w) => total + price(x, w), 0);
    const equal = Math.abs(score - bestScore) <= 1e-7 * (1 + bestScore);
    if (equal ? worth < bestPrice - 1e-12 : score < bestScore) {
      best = { use: use.slice(), ...found };
      bestScore = score;
      bestPrice = worth;
    }
  };
  if (items <= MOST_ITEMS)
    for (let size = 0; size <= items && !stopped; size++) {
      if (least + perItem * size > bestScore + 1e-7 * (1 + bestScore)) break;
      subsetsOf(items, size, consider);
      stopped = progress !== undefined && !progress((size + 1) / (items + 1));
    }
  else stopped = !takeAway(all, consider, solveFor, progress);
  progress?.(1);
  const solved = solvers.reduce((n, s) => n + s.count, 0);
  const chosen = best ?? { use: new Uint8Array(items), ...solveFor(new Uint8Array(items)) };
  return { ...chosen, solved, stopped };
}

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

/** Least squares with some items in use; the slacks, which follow them, always are. */
export function solveSubset(
  solver: NonNegative,
  gram: WaterProblem['gram'],
  use: Uint8Array,
  x: Float64Array,
): number {
  const free = new Uint8Array(gram.n).fill(1);
  free.set(use);
  return solver.solve(gram, free, new Float64Array(gram.n), x);
}

/** Every subset of a size, in the order of the shelf. */
function subsetsOf(items: number, size: number, visit: (use: Uint8Array) => void): void {
  const use = new Uint8Array(items);
  const from = (start: number, left: number): void => {
    if (left === 0) {
      visit(use);
      return;
    }
    for (let i = start; i <= items - left; i++) {
      use[i] = 1;
      from(i + 1, left - 1);
      use[i] = 0;
    }
  };
  from(0, size);
}

/** Takes away the item that is missed least, one after another. Good, not proven best. */
function takeAway(
  all: Uint8Array,
  consider: (use: Uint8Array) => void,
  solveFor: (use: Uint8Array) => { cost: number[] },
  progress?: Progress,
): boolean {
  const use = all.slice();
  consider(use);
  for (let left = use.length; left > 0; left--) {
    let at = -1;
    let cheapest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < use.length; i++) {
      if (!use[i]) continue;
      use[i] = 0;
      const cost = sum(solveFor(use).cost);
      use[i] = 1;
      if (cost < cheapest) {
        cheapest = cost;
        at = i;
      }
    }
    use[at] = 0;
    consider(use);
    if (progress && !progress(1 - left / use.length)) return false;
  }
  return true;
}
