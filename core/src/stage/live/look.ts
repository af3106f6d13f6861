import type { Cue } from '../../documents/kinds/rehearsal.ts';
import { type DueTimes, dueTimes, waitsOf } from './due-times.ts';
import type { LiveRun } from './live-run.ts';
import { begunAt, type Lap, type RunState } from './run-state.ts';

/** A cue with its moment. */
export interface Coming {
  cue: Cue;
  /** When it can begin at its earliest: as planned, or later when something before it was late [s]. */
  due_s: number;
  /** Seconds until its planned moment; negative once it has passed. */
  in_s: number;
}

/** One brewer, or the voice (`brewer` null). */
export interface LaneNow {
  brewer: number | null;
  /** Under way. */
  doing: { cue: Cue; since_s: number; left_s: number } | null;
  next: Coming | null;
  /** Left in this lane, the next one included. */
  remaining: number;
}

/** Seconds after its moment until something that has not begun is called late; a choice: a hand on its way is not late yet. */
export const LATE_AFTER_S = 2;

/** What is to be seen at one moment of a run. */
export interface Look {
  now_s: number;
  lanes: readonly LaneNow[];
  /** What a tap takes: of all lanes the one that is due first. */
  next: Coming | null;
  /** Seconds that the next thing to do is behind its plan; 0 when it is not. */
  behind_s: number;
  /** Not begun although its moment passed more than LATE_AFTER_S ago. */
  overdue: readonly Coming[];
  /** When the run ends if everything left is done at its earliest [s]. */
  ends_s: number;
  over_s: number;
  broken: DueTimes['broken'];
  /** All done or left out. */
  done: boolean;
}

/** Makes looks at one run; what never changes in it is worked out once. */
export function lookAt(run: LiveRun): (state: RunState, now_s: number) => Look {
  const waits = waitsOf(run);
  const brewers = [...new Set(run.cues.map(({ brewer }) => brewer))].sort(
    (a, b) => (a ?? Number.POSITIVE_INFINITY) - (b ?? Number.POSITIVE_INFINITY),
  );
  return (state, now_s) => {
    const begun = begunAt(run.cues, state, now_s);
    const times = dueTimes(run.cues, waits, state, begun, now_s);
    const coming = run.cues
      .filter(({ id }) => times.due.has(id))
      .map(
        (cue): Coming => ({ cue, due_s: times.due.get(cue.id)!, in_s: state.planned.get(cue.id)! - now_s }),
      )
      .sort((a, b) => a.due_s - b.due_s || state.planned.get(a.cue.id)! - state.planned.get(b.cue.id)!);
    const next = coming[0] ?? null;
    return {
      now_s,
      lanes: brewers.map((brewer) => laneNow(run, brewer, coming, begun, now_s)),
      next,
      behind_s: next ? Math.max(0, next.due_s - state.planned.get(next.cue.id)!) : 0,
      overdue: coming.filter(({ in_s }) => in_s < -LATE_AFTER_S),
      ends_s: times.ends_s,
      over_s: Math.max(0, times.ends_s - run.limit_s),
      broken: times.broken,
      done: coming.length === 0,
    };
  };
}

function laneNow(
  { cues }: LiveRun,
  brewer: number | null,
  coming: readonly Coming[],
  begun: ReadonlyMap<string, Lap>,
  now_s: number,
): LaneNow {
  const own = coming.filter(({ cue }) => cue.brewer === brewer);
  let doing: LaneNow['doing'] = null;
  for (const cue of cues) {
    const lap = cue.brewer === brewer ? begun.get(cue.id) : undefined;
    if (!lap || lap.at_s > now_s || lap.at_s + cue.takes_s <= now_s) continue;
    if (!doing || lap.at_s >= doing.since_s)
      doing = { cue, since_s: lap.at_s, left_s: lap.at_s + cue.takes_s - now_s };
  }
  return { brewer, doing, next: own[0] ?? null, remaining: own.length };
}
