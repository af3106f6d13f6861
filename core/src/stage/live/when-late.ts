import type { RunEvent } from '../../documents/kinds/rehearsal.ts';
import { type LateRun, type WayOn, waysOn } from '../late/replan.ts';
import type { Network, Starts } from '../timing/network.ts';
import type { LiveRun } from './live-run.ts';
import { begunAt, type RunState } from './run-state.ts';

/** One way to go on, by cues and seconds. */
export interface LiveWay {
  left_out: readonly string[];
  left_out_ids: readonly string[];
  /** Of everything that has not begun [s]. */
  starts: readonly { cue_id: string; at_s: number }[];
  ends_s: number;
  over_s: number;
  points: number;
  dropped_points: number;
  overtime_points: number;
  disqualified: boolean;
  broken: readonly { from: string; to: string; by_s: number }[];
}

/** The run as the search for ways on wants it. What was left out before is not there any more. */
export function lateRunOf(run: LiveRun, state: RunState, now_s: number): LateRun {
  const tick = (seconds: number): number => Math.max(0, Math.round(seconds * run.ticks_per_s));
  const gone = state.skipped;
  const network = {
    ...run.network,
    tasks: run.network.tasks.filter(({ id }) => !gone.has(id)),
    lags: run.network.lags.filter(({ from, to }) => !gone.has(from) && !gone.has(to)),
  };
  const begun = Object.fromEntries(
    [...begunAt(run.cues, state, now_s).values()].map(({ cue_id, at_s }) => [cue_id, tick(at_s)]),
  );
  return {
    network,
    starts: {
      ...run.starts,
      ...Object.fromEntries(run.cues.map(({ id }) => [id, tick(state.planned.get(id)!)])),
    },
    begun: { ...followers(run, network, begun, tick(now_s)), ...begun },
    now: tick(now_s),
    limit: tick(run.limit_s),
    ticksPerSecond: run.ticks_per_s,
    penalty: run.penalty,
    droppable: run.expendable
      .filter(({ cue_ids }) => !cue_ids.some((id) => gone.has(id)))
      .map(({ name, cue_ids, points }) => ({ name, tasks: cue_ids, points })),
  };
}

/** What nobody begins because it follows from something else, such as draining after a pour: begun once that was, and its wait is over. */
function followers(run: LiveRun, network: Network, begun: Starts, now: number): Starts {
  const cues = new Set(run.cues.map(({ id }) => id));
  return Object.fromEntries(
    network.lags.flatMap(({ from, to, min }) => {
      const at = begun[from];
      return cues.has(to) || at === undefined || at + min > now ? [] : [[to, at + min] as const];
    }),
  );
}

/** Ways to go on from here, best first; see `waysOn`. Every way stands for what begins now or later. */
export function liveWays(run: LiveRun, state: RunState, now_s: number): LiveWay[] {
  const late = lateRunOf(run, state, now_s);
  const cues = new Set(run.cues.map(({ id }) => id));
  return waysOn(late).map((way) => liveWay(run, late, way, cues));
}

function liveWay(run: LiveRun, late: LateRun, way: WayOn, cues: ReadonlySet<string>): LiveWay {
  const per = run.ticks_per_s;
  const left = new Set(way.left_out);
  return {
    left_out: way.left_out,
    left_out_ids: run.expendable.filter(({ name }) => left.has(name)).flatMap(({ cue_ids }) => cue_ids),
    starts: Object.entries(way.starts)
      .filter(([id]) => cues.has(id) && late.begun[id] === undefined)
      .map(([cue_id, at]) => ({ cue_id, at_s: at / per }))
      .sort((a, b) => a.at_s - b.at_s),
    ends_s: way.end / per,
    over_s: way.over_s,
    points: way.points,
    dropped_points: way.dropped_points,
    overtime_points: way.overtime_points,
    disqualified: way.disqualified,
    broken: way.broken.map(({ from, to, by }) => ({ from, to, by_s: by / per })),
  };
}

/** A chosen way as it is written down. */
export const choiceOf = (
  way: LiveWay,
): Omit<Extract<RunEvent, { what: 'choice' }>, 'n' | 'at_s' | 'wall_ms' | 'mono_ms' | 'opened_ms'> => ({
  what: 'choice',
  left_out: [...way.left_out_ids],
  starts: way.starts.map((start) => ({ ...start })),
  points: way.points,
  ends_s: way.ends_s,
});
