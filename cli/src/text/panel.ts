import type { PlainAnswer } from '@pourline/core';
import { table } from './table.ts';

/** A figure as it is printed: at most four significant digits, a dash for nothing. */
export function figure(value: unknown): string {
  if (value === null || value === undefined) return '–';
  if (typeof value === 'number') {
    if (value === Number.POSITIVE_INFINITY) return 'no end';
    if (value === Number.NEGATIVE_INFINITY) return 'no beginning';
    if (Number.isInteger(value)) return String(value);
    const size = Math.abs(value);
    if (size < 0.0005) return size < 1e-12 ? '0' : value.toExponential(1);
    return String(Number(value.toPrecision(4)));
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return String(value);
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isFlat = (value: unknown): boolean => typeof value !== 'object' || value === null;
/** An estimate with its error, or both ends of an interval. */
const isPair = (value: unknown): value is Record<string, unknown> =>
  isObject(value) && Object.keys(value).length <= 3 && Object.values(value).every(isFlat);

/** A name of a figure as it is read: `chiSquared` is "chi squared". */
const words = (key: string): string =>
  key.replaceAll('_', ' ').replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** A small record on one line: "0.61 ± 0.47", "0 to 1.67", or "name value" pairs. */
function pairWords(value: Record<string, unknown>): string {
  if ('value' in value && 'se' in value)
    return value.se === null ? figure(value.value) : `${figure(value.value)} ± ${figure(value.se)}`;
  if ('low' in value && 'high' in value) return `${figure(value.low)} to ${figure(value.high)}`;
  if ('p' in value && 'from' in value)
    return `${figure(value.p)} (${value.from === 'all' ? 'exact' : `${figure(value.from)} random arrangements`})`;
  return Object.entries(value)
    .map(([k, v]) => `${words(k)} ${figure(v)}`)
    .join(', ');
}

function cell(value: unknown): string {
  if (isFlat(value)) return figure(value);
  if (isPair(value)) return pairWords(value);
  if (Array.isArray(value))
    return value.every(isFlat) ? value.map(figure).join(' ') : `${value.length} entries`;
  return Object.entries(value as Record<string, unknown>)
    .filter(([, v]) => isFlat(v) || isPair(v))
    .map(([k, v]) => `${words(k)} ${cell(v)}`)
    .join(', ');
}

/** Lines of one figure, with whatever is inside it. */
function block(key: string, value: unknown, indent: string): string[] {
  if (isFlat(value) || isPair(value)) return [`${indent}${words(key)}: ${cell(value)}`];
  if (Array.isArray(value)) {
    if (value.length === 0) return [];
    if (value.every(isFlat)) return [`${indent}${words(key)}: ${value.map(figure).join('  ')}`];
    if (value.every(isObject)) return ['', `${indent}${words(key)}`, ...rowsOf(value).map((l) => indent + l)];
    return [`${indent}${words(key)}`, ...value.map((row) => `${indent}  ${cell(row)}`)];
  }
  const inner = Object.entries(value as Record<string, unknown>);
  return [`${indent}${words(key)}`, ...inner.flatMap(([k, v]) => block(k, v, `${indent}  `))];
}

/** A list of records as a table; columns whose cells are lists of records are left to JSON. */
function rowsOf(list: readonly Record<string, unknown>[]): string[] {
  const keys = [...new Set(list.flatMap((row) => Object.keys(row)))].filter((key) =>
    list.every((row) => !Array.isArray(row[key]) || (row[key] as unknown[]).every(isFlat)),
  );
  return table([keys.map(words), ...list.map((row) => keys.map((key) => cell(row[key])))]);
}

/** Figures that are shown in JSON only: long series, and counts behind counts. */
const HIDDEN: Readonly<Record<string, readonly string[]>> = {
  temporal: ['curves', 'difference'],
  words: ['map'],
  pairs: ['covariance'],
  balance: ['faults', 'places', 'neighbours'],
  serve: ['balance'],
  description: ['words', 'statements'],
};

/** Every figure of a record, line by line. */
export const figureLines = (figures: Readonly<Record<string, unknown>>): string[] =>
  Object.entries(figures).flatMap(([key, value]) => block(key, value, ''));

/** Findings as sentences, then the figures behind them. What cannot be said and cautions are marked. */
export function panelText(kind: string, { figures, findings }: PlainAnswer): string {
  const sentences = findings.map(({ firmness, sentence }) =>
    firmness === 'cannot' || firmness === 'caution' ? `${firmness}: ${sentence}` : sentence,
  );
  const lines = Object.entries(figures)
    .filter(([key]) => !HIDDEN[kind]?.includes(key))
    .flatMap(([key, value]) => block(key, value, ''));
  return `${[...sentences, ...(sentences.length > 0 ? [''] : []), ...lines].join('\n')}\n`;
}
