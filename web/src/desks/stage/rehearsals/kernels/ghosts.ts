import type { Cue, RunTimes } from '@pourline/core';

/** One track of the ghost strip: what was planned for a brewer or the voice, and what each run made of it. */
export interface GhostLane {
  brewer: number | null;
  /** As shares of the whole. */
  planned: { cue: Cue; from: number; width: number }[];
  runs: { id: string; bars: { cue: Cue; from: number; width: number; late_s: number }[] }[];
}

/** All lanes of some runs over one time axis; the plan is that of the newest. */
export function ghostLanes(runs: readonly RunTimes[]): { lanes: GhostLane[]; to_s: number } {
  const newest = runs.at(-1);
  if (!newest) return { lanes: [], to_s: 60 };
  const to_s = Math.max(
    30,
    newest.limit_s,
    ...runs.map(({ planned_end_s, ended_s }) => Math.max(planned_end_s, ended_s ?? 0)),
    ...runs.flatMap(({ cues }) => cues.map(({ cue, began_s }) => (began_s ?? 0) + cue.takes_s)),
  );
  const brewers = [...new Set(newest.cues.map(({ cue }) => cue.brewer))].sort(
    (a, b) => (a ?? 99) - (b ?? 99),
  );
  const bar = (cue: Cue, at_s: number) => ({ cue, from: at_s / to_s, width: cue.takes_s / to_s });
  return {
    to_s,
    lanes: brewers.map((brewer) => ({
      brewer,
      planned: newest.cues
        .filter(({ cue }) => cue.brewer === brewer)
        .map(({ cue, planned_s }) => bar(cue, planned_s)),
      runs: runs.map(({ id, cues }) => ({
        id,
        bars: cues.flatMap(({ cue, began_s, late_s }) =>
          cue.brewer === brewer && began_s !== null ? [{ ...bar(cue, began_s), late_s: late_s! }] : [],
        ),
      })),
    })),
  };
}
