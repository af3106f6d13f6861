import type { OvertimePenalty } from '../../documents/index.ts';
import { penaltyFor } from '../contest/overtime.ts';
import { checkSchedule } from '../timing/check-schedule.ts';
import { endOf, type Lag, type Network, type Starts } from '../timing/network.ts';
import { search } from '../timing/search.ts';
import { keepOrder } from './keep-order.ts';

/** Something that may be left out when late: tasks of the plan, and what that costs. */
export interface Droppable {
  name: string;
  tasks: readonly string[];
  points: number;
}

/** The run as it stands. */
export interface LateRun {
  network: Network;
  /** As planned [ticks]. */
  starts: Starts;
  /** What has begun, and when [ticks]. */
  begun: Starts;
  now: number;
  /** Limit of the contest [ticks]. */
  limit: number;
  ticksPerSecond: number;
  penalty: OvertimePenalty | null;
  droppable: readonly Droppable[];
}

/** One way to go on. */
export interface WayOn {
  /** Names of what is left out; empty: nothing. */
  left_out: string[];
  /** Starts of everything that is still done [ticks]. */
  starts: Starts;
  end: number;
  over_s: number;
  /** Points for what is left out, for running over, and both. */
  dropped_points: number;
  overtime_points: number;
  points: number;
  disqualified: boolean;
  /** Longest waits that can no longer be kept: the cup will be another one. */
  broken: { from: string; to: string; by: number }[];
}

/** Dead ends spent on each way; late, an answer now is worth more than a shorter one later. */
const EFFORT = 25;
/** Ways looked at; with more to drop only the cheapest come into question. */
const MOST_WAYS = 16;

/**
 * Ways to go on from here, best first: not stopped, then the fewest broken waits, then the fewest points lost. What has begun stays as it
 * was; the rest starts now or later, in whatever order is shortest. Pins to a moment no longer bind. Where the planned order breaks nothing more and ends no later, it is
 * kept.
 */
export function waysOn(run: LateRun): WayOn[] {
  const open = run.droppable.filter(
    ({ tasks }) =>
      tasks.some((id) => run.begun[id] === undefined) && !tasks.some((id) => run.begun[id] !== undefined),
  );
  return subsets(run, open)
    .map((left) => goOn(run, left))
    .sort(
      (a, b) =>
        Number(a.disqualified) - Number(b.disqualified) ||
        a.broken.length - b.broken.length ||
        a.points - b.points ||
        a.left_out.length - b.left_out.length ||
        a.end - b.end,
    );
}

/** Nothing, each alone, and more and more of the cheapest for a second saved. */
function subsets(run: LateRun, open: readonly Droppable[]): Droppable[][] {
  const length = new Map(run.network.tasks.map((t) => [t.id, t.duration]));
  const saved = ({ tasks }: Droppable): number => tasks.reduce((sum, id) => sum + (length.get(id) ?? 0), 0);
  const cheapest = [...open].sort(
    (a, b) => a.points / Math.max(1, saved(a)) - b.points / Math.max(1, saved(b)),
  );
  const ways: Droppable[][] = [[], ...cheapest.map((one) => [one])];
  for (let n = 2; n <= cheapest.length; n++) ways.push(cheapest.slice(0, n));
  for (let i = 0; i < cheapest.length; i++)
    for (let j = Math.max(i + 1, 2); j < cheapest.length; j++) ways.push([cheapest[i]!, cheapest[j]!]);
  return ways.slice(0, MOST_WAYS);
}

function goOn(run: LateRun, left: readonly Droppable[]): WayOn {
  const gone = new Set(left.flatMap(({ tasks }) => tasks));
  const network = remaining(run, gone);
  const exact = search(
    network,
    { what: 'end' },
    { effort: EFFORT, step: Math.max(1, Math.round(run.ticksPerSecond / 10)) },
  );
  // Whoever is not late at all must be told to go on as planned, even where a search this short finds nothing.
  const kept = keepOrder(network, run.starts, run.begun);
  const searched =
    exact.starts ??
    search(withoutLongest(network, run.begun), { what: 'end' }, { effort: EFFORT }).starts ??
    inOrder(network, run);
  const starts = better(network, kept, searched);
  const end = endOf(network, starts);
  const over_s = Math.max(0, (end - run.limit) / run.ticksPerSecond);
  const cost = run.penalty ? penaltyFor(run.penalty, over_s) : { points: 0, disqualified: false };
  const dropped_points = left.reduce((sum, { points }) => sum + points, 0);
  return {
    left_out: left.map(({ name }) => name),
    starts,
    end,
    over_s,
    dropped_points,
    overtime_points: cost.points,
    points: dropped_points + cost.points,
    disqualified: cost.disqualified,
    broken: checkSchedule(network, starts).flatMap((b) =>
      b.what === 'lag_long' ? [{ from: b.from, to: b.to, by: b.by }] : [],
    ),
  };
}

/** The one of two schedules that breaks less, then that ends earlier. */
function better(network: Network, a: Starts, b: Starts): Starts {
  const [brokenA, brokenB] = [a, b].map((starts) => checkSchedule(network, starts).length) as [
    number,
    number,
  ];
  if (brokenA !== brokenB) return brokenA < brokenB ? a : b;
  return endOf(network, a) <= endOf(network, b) ? a : b;
}

/** The network from now on: what is left out is gone, and what came after it takes its place behind what came before. */
function remaining(run: LateRun, gone: ReadonlySet<string>): Network {
  const { network, begun, now } = run;
  let lags: Lag[] = [...network.lags];
  for (const id of gone) {
    const before = lags.filter(({ to }) => to === id);
    const after = lags.filter(({ from }) => from === id);
    const bridges = before.flatMap(({ from, min, max }) =>
      after
        .filter(({ to }) => to !== from)
        .map(({ to }) => ({ from, to, min, ...(max !== undefined && { max }) })),
    );
    lags = [...lags.filter(({ from, to }) => from !== id && to !== id), ...bridges];
  }
  const rest = network.tasks.filter(({ id }) => !gone.has(id));
  const total = rest.reduce((sum, { duration }) => sum + duration, 0);
  const waits = lags.reduce((sum, { min }) => sum + Math.max(0, min), 0);
  return {
    ...network,
    lags,
    limit:
      now +
      total +
      waits +
      Math.max(0, ...Object.values(begun), ...rest.map(({ earliest }) => earliest ?? 0)),
    tasks: rest.map(({ id, duration, needs, earliest }) => {
      const at = begun[id];
      return at !== undefined
        ? { id, duration, needs, earliest: at, latest: at }
        : { id, duration, needs, earliest: Math.max(now, earliest ?? 0) };
    }),
  };
}

const withoutLongest = (network: Network, begun: Starts): Network => ({
  ...network,
  lags: network.lags
    .filter(({ from, to }) => begun[from] === undefined || begun[to] === undefined)
    .map(({ from, to, min }) => ({ from, to, min })),
});

/** Last resort: everything in the planned order, one after another; always there, never clever. */
function inOrder(network: Network, { starts, begun, now }: LateRun): Starts {
  const at: Record<string, number> = {};
  let free = now;
  for (const { id, duration } of network.tasks)
    if (begun[id] !== undefined) {
      at[id] = begun[id];
      free = Math.max(free, begun[id] + duration);
    }
  const left = network.tasks
    .filter(({ id }) => begun[id] === undefined)
    .sort((a, b) => starts[a.id]! - starts[b.id]!);
  for (const { id, duration, earliest } of left) {
    const after = network.lags
      .filter(({ to, from }) => to === id && at[from] !== undefined)
      .map(({ from, min }) => at[from]! + min);
    at[id] = Math.max(free, earliest ?? 0, ...after);
    free = at[id] + duration;
  }
  return at;
}
