import type { Network, Starts } from '../timing/network.ts';

/**
 * Everything in the order it was planned in, each as early as its waits, its hands and its earliest moment allow; what stands in `begun` stays. Not searched
 * for, so it is there at once; longest waits are not looked at.
 */
export function keepOrder(network: Network, planned: Starts, begun: Starts): Starts {
  const at: Record<string, number> = {};
  const before = new Map<string, { from: string; min: number }[]>();
  for (const lag of network.lags) before.set(lag.to, [...(before.get(lag.to) ?? []), lag]);
  // When each unit of a resource is free again.
  const free = new Map(
    Object.entries(network.resources).map(([id, capacity]) => [
      id,
      new Array<number>(Math.min(capacity, 64)).fill(0),
    ]),
  );
  const moment = (id: string): number => begun[id] ?? planned[id] ?? Number.MAX_SAFE_INTEGER;
  for (const task of [...network.tasks].sort((a, b) => moment(a.id) - moment(b.id))) {
    const needs = Object.entries(task.needs).filter(([, need]) => need > 0);
    at[task.id] =
      begun[task.id] ??
      Math.max(
        task.earliest ?? 0,
        planned[task.id] ?? 0,
        ...(before.get(task.id) ?? []).flatMap(({ from, min }) =>
          at[from] === undefined ? [] : [at[from] + min],
        ),
        ...needs.map(([resource, need]) => free.get(resource)![need - 1] ?? 0),
      );
    const end = at[task.id]! + task.duration;
    if (task.duration === 0) continue;
    for (const [resource, need] of needs) {
      const units = free.get(resource)!;
      units.fill(end, 0, need);
      units.sort((a, b) => a - b);
    }
  }
  return at;
}
