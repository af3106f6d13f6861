import type { Talk } from '../../documents/index.ts';
import type { SegmentHistory } from '../overrun/history.ts';

/** One run that was timed, whatever it was timed with. */
export interface TimedRun {
  /** Null when it was not run to its end. */
  ended_s: number | null;
  /** Time of each segment with its pause [s], by id. */
  segments: Readonly<Record<string, number>>;
}

/** Runs that were timed by hand and typed in, in their order. */
export const typedRuns = ({ runs }: Talk): TimedRun[] =>
  runs.map(({ ended_s, segments }) => ({
    ended_s,
    segments: Object.fromEntries(segments.map(({ segment_id, took_s }) => [segment_id, took_s])),
  }));

/** Times by segment, in the order of the talk; segments that are not in it any more are left out. */
export const historiesOf = (talk: Pick<Talk, 'segments'>, runs: readonly TimedRun[]): SegmentHistory[] =>
  talk.segments.map(({ id }) => ({ id, times_s: runs.map(({ segments }) => segments[id] ?? null) }));
