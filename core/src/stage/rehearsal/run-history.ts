import type { SegmentHistory } from '../overrun/history.ts';
import type { TimedRun } from '../run/timed-runs.ts';
import { spokenTimes } from './own-pace.ts';
import type { RunTimes } from './run-times.ts';

/**
 * Times of every stretch over runs, oldest first, as the forecast of overrun wants them; a run that has no such cue, or did not tap it, has a gap
 * there. The cues are those of the newest run, in its order: that is what will be performed.
 */
export function historyOf(runs: readonly RunTimes[]): SegmentHistory[] {
  const newest = runs.at(-1);
  if (!newest) return [];
  const times = runs.map(({ cues }) => new Map(cues.map(({ cue, took_s }) => [cue.id, took_s])));
  return newest.cues.map(({ cue }) => ({
    id: cue.id,
    times_s: times.map((run) => run.get(cue.id) ?? null),
  }));
}

/** Planned length of every stretch of the newest run [s], by cue id. */
export const plannedLengths = (runs: readonly RunTimes[]): Record<string, number> =>
  Object.fromEntries((runs.at(-1)?.cues ?? []).map(({ cue, planned_took_s }) => [cue.id, planned_took_s]));

/** Whole runs that were finished [s], oldest first. */
export const wholeTimes = (runs: readonly RunTimes[]): number[] =>
  runs.flatMap(({ ended_s }) => (ended_s === null ? [] : [ended_s]));

/** How far from its plan one cue begins over runs. */
export interface CueLateness {
  cue_id: string;
  n: number;
  mean_s: number;
  /** Null with a single run. */
  sd_s: number | null;
}

/** How late each cue of the newest run begins, over all runs that tapped it. */
export function latenessOf(runs: readonly RunTimes[]): CueLateness[] {
  const late = runs.map(({ cues }) => new Map(cues.map(({ cue, late_s }) => [cue.id, late_s])));
  return (runs.at(-1)?.cues ?? []).flatMap(({ cue }) => {
    const all = late.flatMap((run) => run.get(cue.id) ?? []);
    if (all.length === 0) return [];
    const mean_s = all.reduce((a, b) => a + b, 0) / all.length;
    const square = all.reduce((sum, x) => sum + (x - mean_s) ** 2, 0);
    return [
      {
        cue_id: cue.id,
        n: all.length,
        mean_s,
        sd_s: all.length > 1 ? Math.sqrt(square / (all.length - 1)) : null,
      },
    ];
  });
}

/** A rehearsal as one of the runs that a talk is timed by: its end, and how long each segment was spoken. */
export const timedRunOf = (run: RunTimes): TimedRun => ({
  ended_s: run.ended_s,
  segments: Object.fromEntries(spokenTimes(run).map(({ id, took_s }) => [id, took_s])),
});
