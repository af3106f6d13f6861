import type { Talk } from '../../documents/index.ts';
import { brewerNetwork, lengthTicks, TICKS, ticks } from '../brewers/compile.ts';
import { pouringTime } from '../brewers/order.ts';
import type { Lag, Network, Starts, Task } from '../timing/network.ts';
import type { PlannedRun } from './plan-run.ts';
import type { RunTalk } from './run-talk.ts';

/** Hands, kettles and voice of one run in one network, with when each thing begins as planned. */
export interface WholeRun {
  network: Network;
  /** [ticks]; of everything that has a place. */
  starts: Starts;
  ticks_per_s: number;
}

/**
 * Brew and talk in one network, for what asks about both at once: runs played with varying lengths, ways on when late. A task of the talk has the id
 * of its segment. Pours that want silence have a
 * task beside them that holds the voice. Null when there is no schedule to stand on.
 */
export function wholeRun(
  talk: Talk,
  plan: Pick<PlannedRun, 'order' | 'schedule' | 'limit_s'>,
  { placed, order }: Pick<RunTalk, 'placed' | 'order'>,
): WholeRun | null {
  if (plan.schedule.actions.length === 0) return null;
  const brew = brewerNetwork({ ...plan.order, brewers: plan.schedule.shown });
  const starts: Record<string, number> = {};
  for (const { id, start_s } of plan.schedule.actions) starts[id] = Math.round(start_s * TICKS);
  const hands = brew.tasks.map(({ latest: _, ...task }): Task => task);
  const quiet = quietTasks(talk, plan);
  // What holds nobody, such as draining, has its moment by its lag.
  for (const { from, to, min } of brew.lags)
    if (starts[to] === undefined && starts[from] !== undefined) starts[to] = starts[from] + min;
  Object.assign(starts, quiet.starts);
  const taken = new Set(hands.map(({ id }) => id));
  const said = placed.segments.filter(({ id, start_s }) => start_s !== null && !taken.has(id));
  const voice = said.map((segment): Task => {
    starts[segment.id] = Math.round(segment.start_s! * TICKS);
    const at = order.segments.find(({ id }) => id === segment.id);
    const pinned = at?.at_s ?? null;
    return {
      id: segment.id,
      duration: lengthTicks(segment.takes_s),
      needs: { voice: 1 },
      ...(pinned !== null && { earliest: ticks(Math.max(0, pinned - (at?.give_s ?? 0))) }),
    };
  });
  const spoken: Lag[] = said.slice(1).map(({ id }, i) => ({
    from: said[i]!.id,
    to: id,
    min: lengthTicks(said[i]!.takes_s),
  }));
  return {
    network: {
      tasks: [...hands, ...quiet.tasks, ...voice],
      lags: [...brew.lags, ...quiet.lags, ...spoken],
      resources: { ...brew.resources, voice: 1 },
      limit: ticks(8 * 7_200),
    },
    starts,
    ticks_per_s: TICKS,
  };
}

/** Pours that want silence hold the voice while their water runs. */
function quietTasks(
  { silence }: Talk,
  { schedule, order }: Pick<PlannedRun, 'schedule' | 'order'>,
): { tasks: Task[]; lags: Lag[]; starts: Record<string, number> } {
  const pours = schedule.actions.filter(
    ({ what, pour }) =>
      what === 'pour' && (silence.pours === 'all' || (silence.pours === 'first' && pour === 1)),
  );
  const id = (pour: string): string => `${pour} silence`;
  return {
    tasks: pours.map((pour) => ({
      id: id(pour.id),
      duration: lengthTicks(pouringTime(order, order.pours[pour.pour! - 1]!)),
      needs: { voice: 1 },
    })),
    lags: pours.map((pour) => ({ from: pour.id, to: id(pour.id), min: 0, max: 0 })),
    starts: Object.fromEntries(pours.map((pour) => [id(pour.id), Math.round(pour.start_s * TICKS)])),
  };
}
