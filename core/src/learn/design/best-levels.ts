/** Region in which the best is looked for. */
export interface Region {
  low: readonly number[];
  high: readonly number[];
  /** Shares that sum to 1. */
  mixture: boolean;
}

/** Steps go down to this part of the region. */
const FINEST = 2 ** -26;

/**
 * Where f is largest in a region, by stepping towards what is better with ever finer steps from several starts: along each level, or, in a
 * mixture, by giving a share of one part to another. For the smooth models of a few factors used here.
 */
export function bestLevels(
  f: (at: readonly number[]) => number,
  starts: readonly (readonly number[])[],
  { low, high, mixture }: Region,
): number[] {
  const k = low.length;
  let best: { at: number[]; y: number } | null = null;
  for (const start of starts) {
    let at = [...start];
    let y = f(at);
    for (let step = 0.5; step > FINEST; step /= 2) {
      for (let gained = true, turns = 0; gained && turns < 50; turns++) {
        gained = false;
        for (const next of mixture ? exchanges(at, step, low, high) : moves(at, step, low, high)) {
          const there = f(next);
          if (there <= y) continue;
          [at, y, gained] = [next, there, true];
        }
      }
    }
    if (best === null || y > best.y) best = { at, y };
  }
  return best?.at ?? new Array<number>(k).fill(0);
}

function moves(
  at: readonly number[],
  step: number,
  low: readonly number[],
  high: readonly number[],
): number[][] {
  const found: number[][] = [];
  for (let i = 0; i < at.length; i++)
    for (const side of [-1, 1]) {
      const to = Math.min(high[i]!, Math.max(low[i]!, at[i]! + side * step * (high[i]! - low[i]!)));
      if (to !== at[i]) found.push(at.map((v, j) => (j === i ? to : v)));
    }
  return found;
}

function exchanges(
  at: readonly number[],
  step: number,
  low: readonly number[],
  high: readonly number[],
): number[][] {
  const found: number[][] = [];
  for (let from = 0; from < at.length; from++)
    for (let to = 0; to < at.length; to++) {
      const by = from === to ? 0 : Math.min(step, at[from]! - low[from]!, high[to]! - at[to]!);
      if (by > 1e-15) found.push(at.map((v, j) => (j === from ? v - by : j === to ? v + by : v)));
    }
  return found;
}
