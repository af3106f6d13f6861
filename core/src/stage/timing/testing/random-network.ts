import type { Chance } from '../../../panel/random.ts';
import type { Lag, Network, Starts, Task } from '../network.ts';

/** A small network with lags of both kinds, windows, and one or two resources; about half of them can be kept. */
export function randomNetwork(chance: Chance, most = 6): Network {
  const count = chance.whole(1, most);
  const resources = { hands: chance.whole(1, 2), voice: 1 };
  const tasks: Task[] = Array.from({ length: count }, (_, i) => ({
    id: `t${i}`,
    duration: chance.whole(0, 3),
    needs: { hands: chance.whole(0, resources.hands), voice: chance.whole(0, 3) === 0 ? 1 : 0 },
    ...(chance.whole(0, 4) === 0 && { earliest: chance.whole(0, 3) }),
    ...(chance.whole(0, 4) === 0 && { latest: chance.whole(2, 8) }),
  }));
  const lags: Lag[] = [];
  for (let i = 0; i < count; i++)
    for (let j = i + 1; j < count; j++) {
      if (chance.whole(0, 3) > 0) continue;
      const min = chance.whole(-1, 4);
      lags.push({
        from: `t${i}`,
        to: `t${j}`,
        min,
        ...(chance.whole(0, 1) === 0 && { max: min + chance.whole(0, 2) }),
      });
    }
  return { tasks, lags, resources, limit: chance.whole(4, 9) };
}

/** Every way to place the tasks, tried one by one: the earliest end, or null when nothing can be kept. */
export function shortestByTrying(network: Network, keeps: (starts: Starts) => boolean): number | null {
  const { tasks, limit } = network;
  let best: number | null = null;
  const starts: Record<string, number> = {};
  const place = (i: number, end: number): void => {
    if (best !== null && end >= best) return;
    const task = tasks[i];
    if (!task) {
      if (keeps(starts)) best = end;
      return;
    }
    for (let start = 0; start + task.duration <= limit; start++) {
      starts[task.id] = start;
      place(i + 1, Math.max(end, start + task.duration));
    }
    delete starts[task.id];
  };
  place(0, 0);
  return best;
}
