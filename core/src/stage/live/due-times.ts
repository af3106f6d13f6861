import type { Cue } from '../../documents/kinds/rehearsal.ts';
import { handOvers } from '../timing/slack.ts';
import type { LiveRun } from './live-run.ts';
import type { Lap, RunState } from './run-state.ts';

/** When what is left can begin, and what that does to the run. */
export interface DueTimes {
  /** Of every cue that has not begun and is not left out [s]. */
  due: ReadonlyMap<string, number>;
  /** When the last of them, or what has begun, is done [s]. */
  ends_s: number;
  /** Longest waits that can no longer be kept, with what follows at its earliest. */
  broken: readonly { from: string; to: string; by_s: number }[];
}

/** One wait between two cues, shortest and longest, start to start [s]. */
interface Wait {
  from: string;
  to: string;
  min_s: number;
  max_s: number | null;
}

/** Waits of a run with every hand's own order; made once, because they do not change while it goes on. */
export function waitsOf({ network, starts, cues, ticks_per_s }: LiveRun): Wait[] {
  const known = new Set(cues.map(({ id }) => id));
  const placed = { ...network, tasks: network.tasks.filter(({ id }) => starts[id] !== undefined) };
  return [...network.lags, ...handOvers(placed, starts)]
    .filter(({ from, to }) => known.has(from) && known.has(to))
    .map(({ from, to, min, max }) => ({
      from,
      to,
      min_s: min / ticks_per_s,
      max_s: max === undefined ? null : max / ticks_per_s,
    }));
}

/**
 * Earliest moments for what is left: not before it is planned, not before now, and not before what it waits for. Whoever has a pour late has
 * the next one later by as much, unless the plan left room.
 */
export function dueTimes(
  cues: readonly Cue[],
  waits: readonly Wait[],
  state: RunState,
  begun: ReadonlyMap<string, Lap>,
  now_s: number,
): DueTimes {
  const due = new Map<string, number>();
  const at = (id: string): number | undefined => begun.get(id)?.at_s ?? due.get(id);
  const into = groupByTarget(waits);
  const left = cues
    .filter(({ id }) => !begun.has(id) && !state.skipped.has(id))
    .sort((a, b) => state.planned.get(a.id)! - state.planned.get(b.id)!);
  for (const { id } of left) {
    let earliest = Math.max(state.planned.get(id)!, now_s);
    for (const { from, min_s } of into.get(id) ?? []) {
      const before = at(from);
      if (before !== undefined) earliest = Math.max(earliest, before + min_s);
    }
    due.set(id, earliest);
  }
  const ends_s = cues.reduce((end, { id, takes_s }) => {
    const start = at(id);
    return start === undefined ? end : Math.max(end, start + takes_s);
  }, 0);
  const broken = waits.flatMap(({ from, to, max_s }) => {
    const [a, b] = [at(from), at(to)];
    if (max_s === null || a === undefined || b === undefined || begun.has(to)) return [];
    const by_s = b - a - max_s;
    return by_s > 0.5 ? [{ from, to, by_s }] : [];
  });
  return { due, ends_s, broken };
}

function groupByTarget(waits: readonly Wait[]): Map<string, Wait[]> {
  const groups = new Map<string, Wait[]>();
  for (const wait of waits) groups.set(wait.to, [...(groups.get(wait.to) ?? []), wait]);
  return groups;
}
