import type { Network, Starts } from './network.ts';

/** A rule that a schedule breaks. */
export type Broken =
  | { what: 'no_start'; task: string }
  | { what: 'too_early' | 'too_late'; task: string; by: number }
  | { what: 'lag_short' | 'lag_long'; from: string; to: string; by: number }
  | { what: 'clash'; resource: string; at: number; needed: number; have: number; tasks: string[] };

/**
 * Everything that a schedule breaks, found by looking at each rule by itself; shares no code with the search, so that it can
 * vouch for it. An empty list: the schedule can be kept.
 */
export function checkSchedule(network: Network, starts: Starts): Broken[] {
  const unplaced = network.tasks.filter(({ id }) => !Number.isFinite(starts[id]));
  if (unplaced.length > 0) return unplaced.map(({ id }) => ({ what: 'no_start', task: id }));
  return [...outOfWindow(network, starts), ...brokenLags(network, starts), ...clashes(network, starts)];
}

function outOfWindow(network: Network, starts: Starts): Broken[] {
  return network.tasks.flatMap((task): Broken[] => {
    const start = starts[task.id]!;
    const early = Math.max(0, task.earliest ?? 0) - start;
    const late = Math.max(
      start - (task.latest ?? Number.POSITIVE_INFINITY),
      start + task.duration - network.limit,
    );
    if (early > 0) return [{ what: 'too_early', task: task.id, by: early }];
    return late > 0 ? [{ what: 'too_late', task: task.id, by: late }] : [];
  });
}

function brokenLags(network: Network, starts: Starts): Broken[] {
  return network.lags.flatMap(({ from, to, min, max }): Broken[] => {
    const gap = starts[to]! - starts[from]!;
    if (gap < min) return [{ what: 'lag_short', from, to, by: min - gap }];
    return max !== undefined && gap > max ? [{ what: 'lag_long', from, to, by: gap - max }] : [];
  });
}

/** Use only rises where a task starts, so that looking at every start sees every clash. */
function clashes(network: Network, starts: Starts): Broken[] {
  return Object.entries(network.resources).flatMap(([resource, have]) =>
    network.tasks.flatMap(({ id, duration, needs }): Broken[] => {
      if (duration === 0 || !needs[resource]) return [];
      const at = starts[id]!;
      const running = network.tasks.filter(
        (t) => (t.needs[resource] ?? 0) > 0 && starts[t.id]! <= at && at < starts[t.id]! + t.duration,
      );
      const needed = running.reduce((sum, t) => sum + t.needs[resource]!, 0);
      if (needed <= have) return [];
      return [{ what: 'clash', resource, at, needed, have, tasks: running.map((t) => t.id) }];
    }),
  );
}
