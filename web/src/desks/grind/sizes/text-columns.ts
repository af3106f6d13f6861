/** A pasted text cut into cells, so that a person can say which column is which. */
export interface Cells {
  head: readonly string[];
  rows: readonly (readonly string[])[];
}

const DELIMITERS = ['\t', ';', '|', ','] as const;
const NUMBER = /^[-+]?[\d\s.,]*\d[\d.,]*([eE][-+]?\d+)?\s*%?$/;

const numbersIn = (cells: readonly string[]): number => cells.filter((cell) => NUMBER.test(cell)).length;

/** Cuts a text by the sign that makes most rows of two figures or more; null when there are none. Quotes are not read. */
export function cellsOf(text: string): Cells | null {
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/);
  const tried = DELIMITERS.map((delimiter) => {
    const cells = lines.map((line) => line.split(delimiter).map((cell) => cell.trim()));
    return { cells, count: cells.filter((row) => numbersIn(row) >= 2).length };
  });
  const best = tried.reduce((a, b) => (b.count > a.count ? b : a));
  const first = best.cells.findIndex((row) => numbersIn(row) >= 2);
  if (first < 0) return null;
  const before = best.cells[first - 1] ?? [];
  return {
    head: numbersIn(before) === 0 && before.length > 1 ? before : [],
    rows: best.cells.slice(first).filter((row) => numbersIn(row) >= 2),
  };
}

/** Columns a person may choose from, by their heads or numbers. */
export function columnNames({ head, rows }: Cells, numbered: (n: number) => string): string[] {
  const width = Math.max(...rows.map((row) => row.length));
  return Array.from({ length: width }, (_, k) => head[k] || numbered(k + 1));
}

/** The same table with two of its columns only, as a text that reads without doubt. */
export function twoColumns({ head, rows }: Cells, size: number, value: number): string {
  const pick = (row: readonly string[]): string => `${row[size] ?? ''}\t${row[value] ?? ''}`;
  const unit = /\b(mm|nm)\b/i.exec(head[size] ?? '')?.[1] ?? 'µm';
  return [`Size (${unit})\t${head[value] || 'Share (%)'}`, ...rows.map(pick)].join('\n');
}
