import type { Cue, RunEvent } from '../../documents/kinds/rehearsal.ts';

/** Something that has begun. */
export interface Lap {
  cue_id: string;
  /** [s] on the clock of the run */
  at_s: number;
  /** Number of the event; null when it was not tapped and counts as begun because its moment has passed. */
  n: number | null;
}

/** A run as its events leave it. */
export interface RunState {
  phase: 'waiting' | 'running' | 'ended';
  mode: 'tap' | 'cues';
  /** By cue id, in the order in which they were tapped. */
  laps: ReadonlyMap<string, Lap>;
  skipped: ReadonlySet<string>;
  /** When each cue is to begin: as planned, or as the last choice has it. Left-out cues are among `skipped`. */
  planned: ReadonlyMap<string, number>;
  /** Marks to be looked at afterwards [s]. */
  marks: readonly number[];
  /** Choices that stand. */
  choices: readonly Extract<RunEvent, { what: 'choice' }>[];
  ended_s: number | null;
  how: 'finished' | 'stopped' | null;
  /** The last thing that an undo would take back; null when there is nothing. */
  undoable: { n: number; what: RunEvent['what']; cue_id: string | null } | null;
  /** Number for the next event. */
  next_n: number;
}

/** What an undo takes back. Clocks and openings are facts, and a start is not taken back but ended. */
const UNDOABLE: ReadonlySet<RunEvent['what']> = new Set(['lap', 'skip', 'choice', 'mark', 'end']);

/**
 * Puts a run together from its events, in the order of their numbers. An event that comes twice counts once, a second lap of one cue
 * does not count, and what is undone never was.
 */
export function runState(cues: readonly Cue[], events: readonly RunEvent[]): RunState {
  const standing = standingEvents(events);
  const laps = new Map<string, Lap>();
  const skipped = new Set<string>();
  const planned = new Map(cues.map(({ id, at_s }) => [id, at_s]));
  const marks: number[] = [];
  const choices: Extract<RunEvent, { what: 'choice' }>[] = [];
  const state = { phase: 'waiting' as RunState['phase'], mode: 'tap' as RunState['mode'] };
  let ended_s: number | null = null;
  let how: RunState['how'] = null;
  for (const event of standing) {
    if (event.what === 'start') state.phase = 'running';
    else if (event.what === 'mode') state.mode = event.mode;
    else if (event.what === 'mark') marks.push(event.at_s);
    else if (event.what === 'skip') skipped.add(event.cue_id);
    else if (event.what === 'lap') {
      if (!planned.has(event.cue_id) || laps.has(event.cue_id)) continue;
      laps.set(event.cue_id, { cue_id: event.cue_id, at_s: event.at_s, n: event.n });
      // Whoever does after all what was left out has done it.
      skipped.delete(event.cue_id);
    } else if (event.what === 'choice') {
      choices.push(event);
      for (const id of event.left_out) if (!laps.has(id)) skipped.add(id);
      for (const { cue_id, at_s } of event.starts) if (!laps.has(cue_id)) planned.set(cue_id, at_s);
    } else if (event.what === 'end') {
      state.phase = 'ended';
      ended_s = event.at_s;
      how = event.how;
    }
  }
  const last = standing.findLast(({ what }) => UNDOABLE.has(what));
  return {
    ...state,
    laps,
    skipped,
    planned,
    marks,
    choices,
    ended_s,
    how,
    undoable: last ? { n: last.n, what: last.what, cue_id: 'cue_id' in last ? last.cue_id : null } : null,
    next_n: events.reduce((most, { n }) => Math.max(most, n), -1) + 1,
  };
}

/** Events once each, by number, without those that a later one takes back. */
export function standingEvents(events: readonly RunEvent[]): RunEvent[] {
  const once = new Map<number, RunEvent>();
  for (const event of events) if (!once.has(event.n)) once.set(event.n, event);
  const ordered = [...once.values()].sort((a, b) => a.n - b.n);
  const undone = new Set(ordered.flatMap((event) => (event.what === 'undo' ? [event.undoes] : [])));
  return ordered.filter(({ n, what }) => what !== 'undo' && !undone.has(n));
}

/** What has begun at a moment: what was tapped, and hands-free also what is planned for before it. */
export function begunAt(
  cues: readonly Cue[],
  { laps, mode, planned, skipped }: RunState,
  now_s: number,
): ReadonlyMap<string, Lap> {
  if (mode === 'tap') return laps;
  const begun = new Map(laps);
  for (const { id } of cues) {
    const at_s = planned.get(id)!;
    if (at_s <= now_s && !begun.has(id) && !skipped.has(id)) begun.set(id, { cue_id: id, at_s, n: null });
  }
  return begun;
}
