import type { Cue, Rehearsal } from '../../documents/kinds/rehearsal.ts';
import { inOrder } from '../live/live-run.ts';
import { runState } from '../live/run-state.ts';

/** One cue of one run: when it was meant to begin and when it did. */
export interface CueTime {
  cue: Cue;
  /** As planned when the run began [s]. */
  planned_s: number;
  /** As tapped; null when it was not [s]. */
  began_s: number | null;
  late_s: number | null;
  skipped: boolean;
  /** From its beginning to the next thing that was to begin; null when either was not tapped, or they came in another order [s]. */
  took_s: number | null;
  planned_took_s: number;
}

/** A run as numbers. */
export interface RunTimes {
  id: string;
  name: string;
  began_at: string;
  limit_s: number;
  cues: CueTime[];
  /** End of the run as tapped; null when it was broken off or never ended [s]. */
  ended_s: number | null;
  planned_end_s: number;
  over_s: number | null;
  marks: readonly number[];
  /** Cues that were tapped, of those that were to be. */
  tapped: number;
}

/** When a set of cues is all done [s]. */
export const plannedEnd = (cues: readonly Cue[]): number =>
  cues.reduce((end, { at_s, takes_s }) => Math.max(end, at_s + takes_s), 0);

/** Reads a rehearsal: laps against the plan as it stood, and how long each stretch took. */
export function timesOf(rehearsal: Rehearsal): RunTimes {
  const state = runState(rehearsal.cues, rehearsal.events);
  const ordered = inOrder(rehearsal.cues);
  const end_s = state.how === 'finished' ? state.ended_s : null;
  const planned_end_s = plannedEnd(ordered);
  const kept = ordered.filter(({ id }) => !state.skipped.has(id));
  const place = new Map(kept.map(({ id }, i) => [id, i]));
  const cues = ordered.map((cue): CueTime => {
    const began_s = state.laps.get(cue.id)?.at_s ?? null;
    const at = place.get(cue.id);
    const next = at === undefined ? undefined : kept[at + 1];
    const until = at === undefined ? null : next ? (state.laps.get(next.id)?.at_s ?? null) : end_s;
    const took = began_s === null || until === null ? null : until - began_s;
    return {
      cue,
      planned_s: cue.at_s,
      began_s,
      late_s: began_s === null ? null : began_s - cue.at_s,
      skipped: state.skipped.has(cue.id),
      took_s: took !== null && took > 0 ? took : null,
      planned_took_s: at === undefined ? cue.takes_s : (next ? next.at_s : planned_end_s) - cue.at_s,
    };
  });
  return {
    id: rehearsal.id,
    name: rehearsal.name,
    began_at: rehearsal.began_at,
    limit_s: rehearsal.limit_s,
    cues,
    ended_s: end_s,
    planned_end_s,
    over_s: end_s === null ? null : end_s - rehearsal.limit_s,
    marks: state.marks,
    tapped: state.laps.size,
  };
}

/** Runs in the order in which they were made. */
export const byMoment = <T extends { began_at: string }>(runs: readonly T[]): T[] =>
  [...runs].sort((a, b) => Date.parse(a.began_at) - Date.parse(b.began_at));
