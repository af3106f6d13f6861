import type { TableThing, Talk } from '../../documents/index.ts';
import type { HandAction } from '../brewers/schedule.ts';

/** A thing on the table with its turn. */
export interface Reached {
  thing: TableThing;
  /** When it is first reached for [s]; null: before the run, or nobody knows. */
  at_s: number | null;
  /** Its turn, from 1; null with no moment. */
  turn: number | null;
}

/** When each thing on the table is first reached for, in that order; things without a moment come last. */
export function reachOrder(things: Talk['table']['things'], actions: readonly HandAction[]): Reached[] {
  const known = things
    .map((thing) => ({ thing, at_s: thing.reach_s ?? firstUse(thing, actions) }))
    .sort((a, b) => (a.at_s ?? Number.POSITIVE_INFINITY) - (b.at_s ?? Number.POSITIVE_INFINITY));
  let turn = 0;
  return known.map((reached) => ({ ...reached, turn: reached.at_s === null ? null : ++turn }));
}

const USED_IN: Readonly<Partial<Record<TableThing['what'], readonly HandAction['what'][]>>> = {
  brewer: ['pour'],
  kettle: ['pour'],
  scale: ['pour'],
  server: ['decant', 'serve'],
  cup: ['serve'],
  tray: ['serve'],
};

function firstUse({ what, brewer }: TableThing, actions: readonly HandAction[]): number | null {
  const uses = USED_IN[what];
  if (!uses) return null;
  const mine = actions.filter((a) => uses.includes(a.what) && (brewer === null || a.brewer === brewer));
  return mine.length === 0 ? null : Math.min(...mine.map(({ start_s }) => start_s));
}
