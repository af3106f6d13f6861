import Papa from 'papaparse';
import { commasAreDecimals, DELIMITERS, looksNumeric } from '../tables/index.ts';
import { looksLikeClock, looksLikeDate } from './times.ts';
import type { TraceMapping } from './types.ts';

export type TraceDelimiter = TraceMapping['delimiter'];

/** Line ends as one sign, whatever the machine that wrote them. */
export const plainLines = (text: string): string => text.replaceAll('\r\n', '\n').replaceAll('\r', '\n');

/** Rows of trimmed cells of a text with plain line ends. Runs of spaces part cells when a space is what parts them. */
export function cellsIn(text: string, delimiter: TraceDelimiter): string[][] {
  const plain =
    delimiter === ' ' ? text.replaceAll(/^ +/gm, '').replaceAll(/ +$/gm, '').replaceAll(/ {2,}/g, ' ') : text;
  const { data } = Papa.parse<string[]>(plain, { delimiter, newline: '\n', skipEmptyLines: false });
  for (const row of data) for (let i = 0; i < row.length; i++) row[i] = row[i]!.trim();
  return data;
}

/** Whether a cell holds a figure or a time. */
export const isFigure = (cell: string): boolean =>
  looksNumeric(cell) || looksLikeClock(cell) || looksLikeDate(cell);

export interface Grid {
  delimiter: TraceDelimiter;
  commaDecimals: boolean;
  rows: string[][];
  /** Index of the first row of figures; −1 when there is none. */
  first: number;
  /** What stands above each column, a line of units joined to it. */
  head: string[];
  /** Commas do two things at once; the line that shows it. */
  commaTwice: string | null;
}

const filled = (row: readonly string[]): number => row.filter((cell) => cell !== '').length;
const figuresIn = (row: readonly string[]): number => row.filter(isFigure).length;

/** A row of a table: at least one figure, and no more words than figures. */
const isRow = (row: readonly string[]): boolean => {
  const figures = figuresIn(row);
  return figures > 0 && figures * 2 >= filled(row);
};

/** Finds how the beginning of a text is parted and where its table starts. */
export function gridOf(text: string): Grid {
  const plain = plainLines(text);
  const tried = ([...DELIMITERS, ' '] as const).map((delimiter) => {
    const rows = cellsIn(plain, delimiter);
    const good = rows.filter(isRow);
    const width = median(good.map(figuresIn));
    // More columns of figures are better, as long as most rows agree on them.
    const even = good.filter((row) => figuresIn(row) >= width).length;
    return {
      delimiter,
      rows,
      score: width >= 2 ? even * (delimiter === ' ' ? 1.5 : 2) : good.length * 0.5,
      width,
    };
  });
  const best = tried.reduce((a, b) => (b.score > a.score ? b : a));
  const first = best.rows.findIndex((row, i) => isRow(row) && looksKept(best.rows, i));
  const figures = best.rows.filter(isRow);
  const head = headAbove(best.rows, first);
  return {
    delimiter: best.delimiter,
    commaDecimals: best.delimiter !== ',' && commasAreDecimals(figures.flat()),
    rows: best.rows,
    first,
    head,
    commaTwice:
      best.delimiter === ',' && commasDoTwoThings(head, figures) ? (figures[0]?.join(',') ?? '') : null,
  };
}

/** A lone figure in a line of notes is no row: what follows must be rows as well. */
function looksKept(rows: readonly string[][], at: number): boolean {
  const next = rows.slice(at + 1, at + 4).filter((row) => filled(row) > 0);
  return next.length === 0 || next.filter(isRow).length * 2 >= next.length;
}

/** The heading above the first row of figures; a line of units between them is joined to it. */
function headAbove(rows: readonly string[][], first: number): string[] {
  if (first <= 0) return [];
  const above = rows.slice(0, first).filter((row) => filled(row) > 0);
  const last = above.at(-1);
  if (!last || figuresIn(last) > 0) return [];
  const before = above.at(-2);
  const joined =
    before &&
    figuresIn(before) === 0 &&
    filled(before) >= 2 &&
    filled(last) >= 2 &&
    last.every((cell) => cell.length <= 8);
  return joined ? last.map((cell, i) => `${before[i] ?? ''} ${cell}`.trim()) : last;
}

/** "0,5,1,2" under a head of two columns, or everywhere in even counts with a short second half of each pair. */
function commasDoTwoThings(head: readonly string[], rows: readonly string[][]): boolean {
  const columns = filled(head);
  if (columns >= 1) {
    const wide = rows.filter((row) => filled(row) > columns);
    return (
      wide.length > rows.length / 2 &&
      rows.some((row) => filled(row) >= 2 * columns - 1 && filled(row) > columns)
    );
  }
  return (
    rows.length >= 3 &&
    rows.every((row) => row.length === 4 && row.every((cell) => /^-?\d+$/.test(cell))) &&
    rows.some((row) => /^0\d*$/.test(row[1]!) || /^0\d/.test(row[3]!))
  );
}

function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
