import type { Lag, Network, Starts } from './network.ts';

/** How much room one task of a schedule has. */
export interface Slack {
  task: string;
  /** Latest start with everything else where it is [ticks]. */
  alone: number;
  /** Latest start when what began before it stays and what comes after may move, each hand keeping its order [ticks]. */
  latest: number;
}

/**
 * Room of every task in a schedule that can be kept. Each unit of a resource hands itself on in the order of the schedule (a partial-order
 * schedule, Policella, Cesta, Oddi & Smith 2007, from memory), so that any starts that keep these hand-overs and all lags are free of
 * clashes; the latest starts are then longest paths.
 */
export function slackOf(network: Network, starts: Starts): Slack[] {
  const lags = [...network.lags, ...handOvers(network, starts)];
  return network.tasks.map((task) => ({
    task: task.id,
    alone: lags.reduce(
      (least, lag) => {
        if (lag.from === task.id) return Math.min(least, starts[lag.to]! - lag.min);
        if (lag.to === task.id && lag.max !== undefined) return Math.min(least, starts[lag.from]! + lag.max);
        return least;
      },
      Math.min(network.limit - task.duration, task.latest ?? Number.POSITIVE_INFINITY),
    ),
    latest: latestStarts(network, lags, starts, starts[task.id]!)[task.id]!,
  }));
}

/** Who takes which unit of a resource over from whom, as lags. */
export function handOvers(network: Network, starts: Starts): Lag[] {
  return Object.entries(network.resources).flatMap(([resource, capacity]) => {
    const users = network.tasks
      .filter((t) => t.duration > 0 && (t.needs[resource] ?? 0) > 0)
      .sort((a, b) => starts[a.id]! - starts[b.id]!);
    const holders: ((typeof users)[number] | null)[] = new Array(Math.min(capacity, 64 * users.length)).fill(
      null,
    );
    return users.flatMap((task) => {
      let wanted = task.needs[resource]!;
      const from = new Map<string, number>();
      for (let unit = 0; unit < holders.length && wanted > 0; unit++) {
        const before = holders[unit];
        if (before && starts[before.id]! + before.duration > starts[task.id]!) continue;
        if (before) from.set(before.id, before.duration);
        holders[unit] = task;
        wanted--;
      }
      return [...from].map(([id, min]) => ({ from: id, to: task.id, min }));
    });
  });
}

/**
 * Latest start of every task under lags and the limit (Bellman & Ford, backwards) [ticks]; what began before `since` stays where it is.
 */
export function latestStarts(network: Network, lags: readonly Lag[], starts: Starts, since: number): Starts {
  const latest: Record<string, number> = {};
  for (const { id, duration, latest: bound } of network.tasks)
    latest[id] =
      starts[id]! < since
        ? starts[id]!
        : Math.min(network.limit - duration, bound ?? Number.POSITIVE_INFINITY);
  for (let round = 0; round <= network.tasks.length; round++) {
    let changed = false;
    const lower = (task: string, to: number): void => {
      if (to >= latest[task]!) return;
      latest[task] = to;
      changed = true;
    };
    for (const { from, to, min, max } of lags) {
      lower(from, latest[to]! - min);
      if (max !== undefined) lower(to, latest[from]! + max);
    }
    if (!changed) break;
  }
  return latest;
}
