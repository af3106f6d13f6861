import Papa from 'papaparse';
import {
  type Checked,
  checkSchema,
  problem,
  type SizingData,
  shown,
  sizingData,
} from '../documents/index.ts';
import { commasAreDecimals, DELIMITERS, looksNumeric, numberIn } from '../tables/index.ts';
import { type GrindRemark, grindRemark } from './remarks.ts';
import { columnsOf, type Role } from './text-columns.ts';
import { unitFactor } from './text-numbers.ts';

/** A text read into the data of a measurement, and what was assumed in doing so. */
export interface ReadText {
  data: SizingData;
  notes: GrindRemark[];
}

/** A line of the text that holds figures: its number, counted from 1, and its cells. */
interface Line {
  number: number;
  cells: readonly string[];
}

interface Grid {
  head: readonly string[];
  lines: readonly Line[];
  /** Lines with text and no figures, beside the head. */
  leftOut: number;
  commaDecimals: boolean;
}

/**
 * Reads a table of sizes from text as instruments and spreadsheets write it: columns parted by comma, semicolon or tab; points or
 * commas as decimals; any lines before and after; sizes in nm, µm or mm, rising or falling; shares by class or cumulative. A
 * column in grams makes it a stack of sieves. The text itself is kept with the data. Never throws.
 */
export function readSizeText(text: string, name = ''): Checked<ReadText> {
  const grid = gridOf(text);
  if ('problem' in grid) return { ok: false, problems: [grid.problem] };
  const notes: GrindRemark[] = [];
  if (grid.leftOut > 0) notes.push(grindRemark('note', 'lines_left_out', { count: grid.leftOut }));
  const roles = columnsOf(
    grid.head,
    grid.lines.map(({ cells }) => cells.map((cell) => numberIn(cell, grid.commaDecimals))),
  );
  return roles.mass >= 0 ? sievesFrom(grid, roles, notes) : tableFrom(grid, roles, notes, { name, text });
}

type Failed = { problem: ReturnType<typeof problem> };

/** Finds how the text is parted and where its table stands. */
function gridOf(text: string): Grid | Failed {
  const plain = text.replace(/^\uFEFF/, '');
  const tried = DELIMITERS.map((delimiter) => {
    const { data } = Papa.parse<string[]>(plain, { delimiter, skipEmptyLines: false });
    const lines = data.map((cells, i) => ({ number: i + 1, cells: cells.map((cell) => cell.trim()) }));
    return { delimiter, lines, figures: lines.filter((line) => figuresIn(line) >= 2) };
  });
  const best = tried.reduce((a, b) => (b.figures.length > a.figures.length ? b : a));
  if (best.figures.length === 0) {
    const single = tried[2]!.lines.some((line) => figuresIn(line) === 1);
    return { problem: problem([], single ? 'text_one_column' : 'text_no_rows') };
  }
  const { lines, delimiter } = best;
  const firstFigures = lines.findIndex((line) => figuresIn(line) >= 2);
  const headAt = lines
    .slice(0, firstFigures)
    .findLastIndex((line) => figuresIn(line) === 0 && line.cells.filter((cell) => cell !== '').length >= 2);
  const head = lines[headAt];
  // A row right below the head belongs to the table even when something in it cannot be read.
  const first = headAt >= 0 ? headAt + 1 : firstFigures;
  if (delimiter === ',' && commasDoTwoThings(head?.cells ?? [], best.figures)) {
    const value = shown(plain.split(/\r?\n/)[firstFigures] ?? '');
    return { problem: problem([], 'text_comma_twice', { value }) };
  }
  const isPan = (line: Line) => /^(pan|base|bottom|receiver)$/i.test(line.cells[0] ?? '');
  const kept = lines.slice(first).filter((line) => figuresIn(line) >= 2 || isPan(line) || brokenRow(line));
  const texts = lines.filter((line) => line.cells.some((cell) => cell !== '') && line !== head);
  return {
    head: head?.cells ?? [],
    lines: kept,
    leftOut: texts.filter((line) => !kept.includes(line)).length,
    commaDecimals: delimiter !== ',' && commasAreDecimals(best.figures.flatMap(({ cells }) => cells)),
  };
}

const figuresIn = ({ cells }: Line): number => cells.filter(looksNumeric).length;

/** A row that was meant to hold figures: it has one, and something else where another belongs. */
const brokenRow = ({ cells }: Line): boolean =>
  looksNumeric(cells[0] ?? '') && cells.length >= 2 && cells.slice(1).some((cell) => cell !== '');

/** "0,5,1,2" under a head of two columns. */
function commasDoTwoThings(head: readonly string[], lines: readonly Line[]): boolean {
  const columns = head.filter((cell) => cell !== '').length;
  const wide = lines.filter(({ cells }) => cells.length > columns);
  if (columns >= 2)
    return wide.length > lines.length / 2 && lines.some(({ cells }) => cells.length >= 2 * columns - 1);
  // Without a head: whole numbers only, in an even count, some of the second ones with leading zeros.
  return lines.every(({ cells }) => cells.length === 4 && cells.every((cell) => /^\d+$/.test(cell)));
}

const missing = (column: string, line: Line, cell: string) =>
  problem(['table'], 'text_cell', { line: line.number, value: shown(cell), column });

interface Row {
  line: Line;
  size_um: number;
  value: number;
}

function tableFrom(
  grid: Grid,
  roles: Role,
  notes: GrindRemark[],
  file: { name: string; text: string },
): Checked<ReadText> {
  const label = (k: number) => grid.head[k] || `column ${k + 1}`;
  const problems: ReturnType<typeof problem>[] = [];
  const factor = unitFactor(grid.head[roles.size] ?? '');
  const rows: Row[] = [];
  for (const line of grid.lines) {
    const size = numberIn(line.cells[roles.size] ?? '', grid.commaDecimals);
    const value = numberIn(line.cells[roles.value] ?? '', grid.commaDecimals);
    if (size === null) problems.push(missing(label(roles.size), line, line.cells[roles.size] ?? ''));
    else if (value === null) problems.push(missing(label(roles.value), line, line.cells[roles.value] ?? ''));
    else if (value < 0)
      problems.push(
        problem(['table'], 'text_negative', { line: line.number, value, column: label(roles.value) }),
      );
    else rows.push({ line, size_um: Number((size * factor.um).toPrecision(12)), value });
  }
  const solid = rows.filter((row) => row.size_um !== 0 || row.value !== 0);
  if (solid.length < rows.length)
    notes.push(grindRemark('note', 'empty_sizes', { count: rows.length - solid.length }));
  problems.push(...sizeProblems(solid));
  if (problems.length > 0) return { ok: false, problems };
  if (factor.unit !== null) notes.push(grindRemark('note', 'unit_converted', { unit: factor.unit }));
  const rising = solid.toSorted((a, b) => a.size_um - b.size_um);
  if (rising[0] !== solid[0]) notes.push(grindRemark('note', 'rows_turned'));
  notes.push(
    grindRemark(
      'note',
      'columns_taken',
      { size: label(roles.size), value: label(roles.value) },
      { of: roles.of },
    ),
  );
  const long = file.text.length > 200_000;
  const checked = checkSchema(sizingData, {
    by: 'table',
    of: roles.of,
    sizes: roles.sizes,
    weighting: roles.weighting,
    rows: rising.map(({ size_um, value }) => ({ size_um, value_pct: value })),
    file: { name: file.name, text: long ? '' : file.text },
  });
  return checked.ok ? { ok: true, value: { data: checked.value, notes } } : checked;
}

function sizeProblems(rows: readonly Row[]): ReturnType<typeof problem>[] {
  const seen = new Set<number>();
  return rows.flatMap(({ line, size_um }) => {
    const twice = seen.has(size_um);
    seen.add(size_um);
    if (!(size_um > 0))
      return [problem(['table'], 'text_size_not_positive', { line: line.number, value: size_um })];
    return twice ? [problem(['table'], 'text_size_twice', { line: line.number, value: size_um })] : [];
  });
}

function sievesFrom(grid: Grid, roles: Role, notes: GrindRemark[]): Checked<ReadText> {
  const label = (k: number) => grid.head[k] || `column ${k + 1}`;
  const factor = unitFactor(grid.head[roles.size] ?? '');
  const problems: ReturnType<typeof problem>[] = [];
  const rows: { aperture_um: number; weighed_g: number; tare_g: number; line: Line }[] = [];
  let pan: { weighed_g: number; tare_g: number } | null = null;
  for (const line of grid.lines) {
    const cell = (k: number) => line.cells[k] ?? '';
    const isPan = !looksNumeric(cell(roles.size)) || numberIn(cell(roles.size), grid.commaDecimals) === 0;
    const mass = numberIn(cell(roles.mass), grid.commaDecimals);
    const tare = roles.tare >= 0 ? (numberIn(cell(roles.tare), grid.commaDecimals) ?? 0) : 0;
    if (mass === null) problems.push(missing(label(roles.mass), line, cell(roles.mass)));
    else if (mass < 0)
      problems.push(
        problem(['table'], 'text_negative', { line: line.number, value: mass, column: label(roles.mass) }),
      );
    else if (isPan) pan = { weighed_g: mass, tare_g: tare };
    else {
      const size = numberIn(cell(roles.size), grid.commaDecimals)! * factor.um;
      rows.push({ aperture_um: Number(size.toPrecision(12)), weighed_g: mass, tare_g: tare, line });
    }
  }
  problems.push(
    ...sizeProblems(rows.map(({ line, aperture_um }) => ({ line, size_um: aperture_um, value: 0 }))),
  );
  if (problems.length > 0) return { ok: false, problems };
  const falling = rows.toSorted((a, b) => b.aperture_um - a.aperture_um);
  if (factor.unit !== null) notes.push(grindRemark('note', 'unit_converted', { unit: factor.unit }));
  const checked = checkSchema(sizingData, {
    by: 'sieves',
    sieves: falling.map(({ line: _, ...row }) => row),
    pan,
  });
  return checked.ok ? { ok: true, value: { data: checked.value, notes } } : checked;
}
