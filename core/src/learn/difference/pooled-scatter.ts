/** Scatter within groups, and what it rests on. */
export interface PooledScatter {
  /** Standard deviation within a group. */
  sd: number;
  /** Degrees of freedom: values less one for each group. */
  free: number;
  /** Groups of two values or more. */
  groups: number;
}

/** How far values scatter within their groups, all groups pooled (the error of a one-way table); null without two alike. */
export function pooledScatter(groups: Iterable<readonly number[]>): PooledScatter | null {
  let squares = 0;
  let free = 0;
  let count = 0;
  for (const values of groups) {
    if (values.length < 2) continue;
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    squares += values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    free += values.length - 1;
    count++;
  }
  return free > 0 ? { sd: Math.sqrt(squares / free), free, groups: count } : null;
}
