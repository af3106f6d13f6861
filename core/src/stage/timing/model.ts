import type { Network } from './network.ts';
import type { Reason } from './state.ts';

/** A network as the search reads it: tasks by number, with one task more, the end of everything. */
export interface Model {
  count: number;
  durations: Int32Array;
  /** Bounds at the beginning; see State. */
  bounds: Int32Array;
  /** For every bound, the bounds that must follow it: at least `by` above. */
  follow: readonly (readonly { to: number; by: number; reason: Reason }[])[];
  /** Resources that can be overdrawn: how much there is, and which tasks need how much of it. */
  pools: readonly { capacity: number; tasks: Int32Array; needs: Int32Array }[];
  /** Tasks that can never run at once, in pairs. */
  apart: Int32Array;
}

/** Number of the task that stands for the end of everything. */
export const endTask = (model: Model): number => model.count - 1;

/** Reads a network; its contract has been checked. */
export function modelOf(network: Network): Model {
  const { tasks, lags, limit } = network;
  const number = new Map(tasks.map(({ id }, i) => [id, i]));
  const count = tasks.length + 1;
  const durations = Int32Array.from([...tasks.map((t) => t.duration), 0]);
  const bounds = new Int32Array(2 * count);
  tasks.forEach((task, i) => {
    bounds[2 * i] = Math.max(0, task.earliest ?? 0);
    bounds[2 * i + 1] = -Math.min(task.latest ?? limit, limit - task.duration);
  });
  bounds[2 * count - 1] = -limit;
  const follow: { to: number; by: number; reason: Reason }[][] = Array.from(bounds, () => []);
  const after = (i: number, j: number, by: number): void => {
    for (const [from, to] of [
      [2 * i, 2 * j],
      [2 * j + 1, 2 * i + 1],
    ] as const)
      follow[from]!.push({ to, by, reason: { kind: 'lag', from, by } });
  };
  for (const { from, to, min, max } of lags) {
    after(number.get(from)!, number.get(to)!, min);
    if (max !== undefined) after(number.get(to)!, number.get(from)!, -max);
  }
  tasks.forEach((task, i) => {
    after(i, count - 1, task.duration);
  });
  const pools = poolsOf(network);
  return { count, durations, bounds, follow, pools, apart: pairsOf(pools) };
}

function poolsOf({ tasks, resources }: Network): Model['pools'] {
  return Object.entries(resources).flatMap(([resource, capacity]) => {
    const users = tasks.flatMap((t, i) => (t.duration > 0 && (t.needs[resource] ?? 0) > 0 ? [i] : []));
    const needs = users.map((i) => tasks[i]!.needs[resource]!);
    if (needs.reduce((sum, need) => sum + need, 0) <= capacity) return [];
    return [{ capacity, tasks: Int32Array.from(users), needs: Int32Array.from(needs) }];
  });
}

function pairsOf(pools: Model['pools']): Int32Array {
  const pairs = new Map<string, readonly [number, number]>();
  for (const { capacity, tasks, needs } of pools)
    for (let a = 0; a < tasks.length; a++)
      for (let b = a + 1; b < tasks.length; b++)
        if (needs[a]! + needs[b]! > capacity) pairs.set(`${tasks[a]} ${tasks[b]}`, [tasks[a]!, tasks[b]!]);
  // What comes first in the list of tasks is decided first: a contradiction among the first few need not wait for the rest.
  return Int32Array.from([...pairs.values()].sort((x, y) => x[1] - y[1] || x[0] - y[0]).flat());
}
