import type { Cue } from '../../documents/kinds/rehearsal.ts';
import type { RunState } from './run-state.ts';

/** One sound of a count-in. */
export interface Beat {
  at_s: number;
  /** `ready`: one of the seconds before; `go`: the moment itself. */
  tone: 'ready' | 'go';
  cue_id: string;
}

/** Seconds counted before something begins; a choice: three, as people count in. */
export const COUNTED_S = 3;

/**
 * Sounds between two moments: three before each thing the hands do, and one at it. Talk has none, for nobody can listen and speak. Where a
 * count-in would run into the one before, only what comes after that one's last sound is heard.
 */
export function beatsBetween(cues: readonly Cue[], state: RunState, from_s: number, to_s: number): Beat[] {
  const heard = cues
    .filter(({ id, what }) => what !== 'say' && !state.laps.has(id) && !state.skipped.has(id))
    .map(({ id }) => ({ id, at_s: state.planned.get(id)! }))
    .sort((a, b) => a.at_s - b.at_s);
  const beats: Beat[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const { id, at_s } of heard) {
    if (at_s - last < 0.4) continue;
    for (let before = COUNTED_S; before > 0; before--)
      if (at_s - before > last + 0.4) beats.push({ at_s: at_s - before, tone: 'ready', cue_id: id });
    beats.push({ at_s, tone: 'go', cue_id: id });
    last = at_s;
  }
  return beats.filter((beat) => beat.at_s >= from_s && beat.at_s < to_s);
}
