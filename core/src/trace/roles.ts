import type { ColumnUse, TracePlace } from './types.ts';

/** Words that head a column, in lower case. */
const TIME = /time|zeit|elapsed|clock|date|timestamp|second|^sec|^t($|[\s_([/])|時間|时间|秒/;
const BEVERAGE = /bever|cup|server|carafe|drip|outflow|out\b|yield|collected|in the cup|液|杯/;
const MASS =
  /mass|weight|scale|balance|water|pour|gram|total|load|^m($|[\s_([/])|^w($|[\s_([/])|重量|質量|质量|^g$|\(g\)|\[g\]/;
const TEMPERATURE = /temp|thermo|°|celsius|fahrenheit|kettle|slurry|probe|溫度|温度|℃|_c$|\(c\)|\[c\]/;
/** Said by many recorders and of no use here. */
const IGNORED = /flow|rate|speed|battery|index|^no\.?$|^#$|^n$|count|humid|press|volt|signal|stable|status/;

const PLACES: readonly (readonly [RegExp, TracePlace])[] = [
  [/kettle|spout|壺|壶/, 'kettle'],
  [/head|slurry|above/, 'head'],
  [/top|upper/, 'bed_top'],
  [/bottom|lower/, 'bed_bottom'],
  [/bed|middle|mid|grounds/, 'bed_middle'],
  [/drip|outlet|out\b/, 'drip'],
  [/server|carafe|jug/, 'server'],
  [/cup|杯/, 'cup'],
];

/** What a heading says a column is; null when it says nothing. */
export function useNamed(heading: string): ColumnUse | null {
  const plain = heading.trim().toLowerCase();
  if (plain === '') return null;
  if (TEMPERATURE.test(plain) && !/weight|mass/.test(plain)) return 'temperature';
  if (IGNORED.test(plain)) return 'skip';
  if (TIME.test(plain)) return 'time';
  if (BEVERAGE.test(plain)) return 'beverage';
  return MASS.test(plain) ? 'poured' : null;
}

/** Where a heading says that a temperature was taken; the kettle when it says nothing. */
export function placeNamed(heading: string): TracePlace {
  const plain = heading.toLowerCase();
  return PLACES.find(([words]) => words.test(plain))?.[1] ?? 'kettle';
}

/** What the figures of a column look like over the rows looked at. */
export interface ColumnFigures {
  /** Share of cells that hold a figure. */
  share: number;
  values: readonly number[];
  /** Most cells are written as a clock or a date. */
  clock: boolean;
  date: boolean;
  /** All are whole numbers. */
  whole: boolean;
}

/** Share of steps that go up, and whether any goes down. */
function rising(values: readonly number[]): { up: number; down: number } {
  let up = 0;
  let down = 0;
  for (let i = 1; i < values.length; i++) {
    if (values[i]! > values[i - 1]!) up++;
    else if (values[i]! < values[i - 1]!) down++;
  }
  const steps = Math.max(1, values.length - 1);
  return { up: up / steps, down: down / steps };
}

/** Whether figures rise as times do: nearly every step goes up, or nearly every one down in a file turned round. */
export function riseAsTimes({ values, clock, date }: ColumnFigures): boolean {
  if (clock || date) return true;
  if (values.length < 3) return false;
  const { up, down } = rising(values);
  return (up > 0.9 && down < 0.03) || (down > 0.97 && up === 0);
}

/** Steps all alike, as a recorder's times are; masses are not. */
export function evenness({ values }: ColumnFigures): number {
  const steps = values.slice(1).map((v, i) => v - values[i]!);
  const mean = steps.reduce((a, b) => a + b, 0) / Math.max(1, steps.length);
  if (mean === 0) return 0;
  const spread = Math.sqrt(steps.reduce((a, b) => a + (b - mean) ** 2, 0) / Math.max(1, steps.length));
  return 1 / (1 + spread / Math.abs(mean));
}

/** Whether figures look like temperatures of a brew: never near zero, within what water can be, no long climb from nothing. */
export function likeTemperatures({ values }: ColumnFigures): boolean {
  if (values.length === 0) return false;
  const low = Math.min(...values);
  const high = Math.max(...values);
  return (
    (low >= 10 && high <= 106) || (low >= 60 && high <= 222 && low > 0.4 * high) || (low > 283 && high < 380)
  );
}
