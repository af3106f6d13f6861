import type { TimeUnit } from './types.ts';
import { secondsPer } from './units.ts';

const CLOCK = /^-?\d{1,4}:\d{1,2}(:\d{1,2})?([.,]\d+)?$/;
const CLOCK_IN = /(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?\s*(am|pm)?/i;
const DAY = /(\d{4})-(\d{1,2})-(\d{1,2})/;
/** A calendar date in any usual order with a time of day behind it. */
const DATED = /^\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}[T\s]+\d{1,2}:\d{2}/;

/** Whether a cell reads as minutes and seconds, or hours, minutes and seconds. */
export const looksLikeClock = (cell: string): boolean => CLOCK.test(cell.trim());
/** Whether a cell reads as a date with a time. */
export const looksLikeDate = (cell: string): boolean => DATED.test(cell.trim());

/** Seconds of `mm:ss.s` or `hh:mm:ss.s`; NaN when it is neither. */
export function clockSeconds(cell: string): number {
  const text = cell.trim();
  if (!CLOCK.test(text)) return Number.NaN;
  const negative = text.startsWith('-');
  const parts = text.replace('-', '').replace(',', '.').split(':').map(Number);
  const total = parts.reduce((sum, part) => sum * 60 + part, 0);
  return negative ? -total : total;
}

/**
 * Seconds of a date with a time, counted from 1970 when the date is written year-month-day, from midnight otherwise: of a recording
 * only differences count.
 */
export function dateSeconds(cell: string): number {
  const clock = CLOCK_IN.exec(cell);
  if (!clock) return Number.NaN;
  const [, h, m, s, fraction, half] = clock;
  const hours = (Number(h) % (half ? 12 : 24)) + (half?.toLowerCase() === 'pm' ? 12 : 0);
  const day = DAY.exec(cell);
  const midnight = day ? Date.UTC(Number(day[1]), Number(day[2]) - 1, Number(day[3])) / 1_000 : 0;
  return midnight + hours * 3_600 + Number(m) * 60 + Number(s ?? 0) + Number(`0.${fraction ?? 0}`);
}

/** A reader of times in one unit: seconds, or NaN for a cell that holds none. `number` reads a plain number. */
export function timeReader(unit: TimeUnit, number: (cell: string) => number): (cell: string) => number {
  if (unit === 'clock') return clockSeconds;
  if (unit === 'date') return dateSeconds;
  const factor = secondsPer(unit) ?? 1;
  return (cell) => number(cell) * factor;
}
