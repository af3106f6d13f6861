import type { MassUnit, TemperatureUnit, TimeUnit, TraceUnit } from './types.ts';

/** Seconds per unit, for times that are plain numbers. */
const SECONDS: Partial<Record<TimeUnit, number>> = {
  s: 1,
  ms: 1e-3,
  min: 60,
  h: 3_600,
  epoch_s: 1,
  epoch_ms: 1e-3,
};

/** Grams per unit. The avoirdupois ounce is 28.349523125 g and the pound 453.59237 g exactly (1959 agreement). */
const GRAMS: Record<MassUnit, number> = {
  g: 1,
  kg: 1_000,
  mg: 1e-3,
  'g/10': 0.1,
  'mg/10': 1e-4,
  oz: 28.349523125,
  lb: 453.59237,
};

/** Factor from a unit of time that is a plain number to seconds; null for clocks and dates. */
export const secondsPer = (unit: TimeUnit): number | null => SECONDS[unit] ?? null;

const isMass = (unit: TraceUnit): unit is MassUnit => unit in GRAMS;

/** A mass in grams or a temperature in °C from a figure in any unit. */
export function inOurUnit(value: number, unit: MassUnit | TemperatureUnit): number {
  if (isMass(unit)) return value * GRAMS[unit];
  if (unit === 'F') return ((value - 32) * 5) / 9;
  if (unit === 'K') return value - 273.15;
  return unit === 'C/10' ? value / 10 : value;
}

/** Words for units as headings and balances print them, in lower case. */
const WORDS: readonly (readonly [RegExp, TraceUnit])[] = [
  [/^(ms|msec|millis(econds?)?)$/, 'ms'],
  [/^(s|sec|secs|seconds?|秒)$/, 's'],
  [/^(min|mins|minutes?|分)$/, 'min'],
  [/^(h|hours?)$/, 'h'],
  [/^(m{1,2}:ss(\.\w+)?|h{1,2}:mm(:ss)?(\.\w+)?)$/, 'clock'],
  [/^(iso|utc|date|datetime)$/, 'date'],
  [/^(g|gr|gram|grams|gramm|克)$/, 'g'],
  [/^(kg|kgs|kilo(gram)?s?|公斤)$/, 'kg'],
  [/^(mg|milligrams?)$/, 'mg'],
  [/^(g\/10|dg|0\.1 ?g)$/, 'g/10'],
  [/^(mg\/10|0\.1 ?mg)$/, 'mg/10'],
  [/^(oz|ounces?)$/, 'oz'],
  [/^(lbs?|pounds?)$/, 'lb'],
  [/^(°? ?c|deg ?c|celsius|℃)$/, 'C'],
  [/^(°? ?f|deg ?f|fahrenheit|℉)$/, 'F'],
  [/^(k|kelvin)$/, 'K'],
];

/** The unit that one word names, or null. */
export function unitNamed(word: string): TraceUnit | null {
  const plain = word.trim().toLowerCase();
  return WORDS.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

/** The unit that a heading names, in brackets or as a word of its own: "Mass (g)", "t/ms", "temp_C", "weight [kg]". */
export function unitInHeading(heading: string): TraceUnit | null {
  const bracketed = /[([{]\s*([^)\]}]+?)\s*[)\]}]/.exec(heading)?.[1];
  if (bracketed) {
    const named = unitNamed(bracketed);
    if (named) return named;
  }
  const words = heading.split(/[\s_,;]+/).flatMap((word) => [word, ...word.split('/')]);
  for (const word of words.slice(1).reverse()) {
    const named = unitNamed(word);
    if (named) return named;
  }
  const only = words.length === 1 ? unitNamed(words[0]!) : null;
  return only;
}

export const TIME_UNITS: readonly TimeUnit[] = [
  's',
  'ms',
  'min',
  'h',
  'clock',
  'date',
  'epoch_s',
  'epoch_ms',
];
export const MASS_UNITS = Object.keys(GRAMS) as MassUnit[];
export const TEMPERATURE_UNITS: readonly TemperatureUnit[] = ['C', 'F', 'K', 'C/10'];

/** What a column is called in sentences: its heading, or its place. */
export const columnName = ({ column, head }: { column: number; head: string }): string =>
  head || `column ${column + 1}`;
