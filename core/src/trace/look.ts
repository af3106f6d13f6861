import { numberIn, unitBehind } from '../tables/index.ts';
import { gridOf, isFigure, plainLines } from './grid.ts';
import { unitFits, unitFromFigures } from './guess-units.ts';
import { figure, traceRemark } from './remarks.ts';
import {
  type ColumnFigures,
  evenness,
  likeTemperatures,
  placeNamed,
  riseAsTimes,
  useNamed,
} from './roles.ts';
import { clockSeconds, dateSeconds, looksLikeClock, looksLikeDate } from './times.ts';
import type {
  ColumnUse,
  FoundColumn,
  TimeUnit,
  TraceMapping,
  TracePreview,
  TraceRemark,
  TraceUnit,
} from './types.ts';
import { inOurUnit, columnName as nameOf, unitInHeading, unitNamed } from './units.ts';

/** How much of a file is looked at: its beginning, and samples from the rest for the range of its figures. */
const HEAD = 64_000;
const SAMPLE = 16_000;
const SAMPLES = 8;
/** Rows of the beginning that are judged. */
const JUDGED = 400;
/** Lines of the preview. */
const SHOWN = 24;
/** Time between rows when nothing says it [s]: ten a second is what most balances give. */
const USUAL_STEP = 0.1;

/**
 * Looks at a file and proposes how to read it: what parts its columns, where figures begin, what each column is and in which unit.
 * Looks at the beginning and at samples of the rest, so that its time does not grow with the file. Never throws; what stands in
 * the way is said in `remarks`, as a `problem` when nothing can be read.
 */
export function lookAtTrace(text: string): TracePreview {
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const odd = oddShare(plain.slice(0, HEAD));
  if (plain.trim() === '') return nothing(traceRemark('problem', 'empty_file'));
  if (odd > 0.1) return nothing(traceRemark('problem', 'not_text', { share: Math.round(100 * odd) }));
  const grid = gridOf(wholeLines(plain.slice(0, HEAD), plain.length > HEAD));
  const shown = grid.rows.slice(0, SHOWN).map((cells, i) => ({
    line: i + 1,
    cells,
    read: grid.first >= 0 && i >= grid.first && cells.some(isFigure),
  }));
  if (grid.first < 0) return { ...nothing(traceRemark('problem', 'no_figures')), lines: shown };
  const remarks: TraceRemark[] = [];
  if (grid.commaTwice !== null)
    remarks.push(
      traceRemark('problem', 'comma_twice', { value: JSON.stringify(grid.commaTwice.slice(0, 60)) }),
    );
  const rows = grid.rows.slice(grid.first, grid.first + JUDGED);
  const later = laterRows(plain, grid.delimiter);
  const columns = judgeColumns(grid.head, rows, later, grid.commaDecimals, remarks);
  const timed = columns.some(({ use }) => use === 'time');
  if (!timed) remarks.push(traceRemark('caution', 'no_time_column', { step: USUAL_STEP }));
  if (!columns.some(({ use }) => use === 'poured' || use === 'beverage'))
    remarks.push(traceRemark('caution', 'no_mass_column'));
  return {
    mapping: {
      delimiter: grid.delimiter,
      comma_decimals: grid.commaDecimals,
      skip_lines: grid.first,
      every_s: timed ? null : USUAL_STEP,
      columns: columns.map(({ column, head, use, unit, place }) => ({ column, head, use, unit, place })),
    },
    columns,
    lines: shown,
    remarks,
  };
}

function nothing(remark: TraceRemark): TracePreview {
  const mapping: TraceMapping = {
    delimiter: ',',
    comma_decimals: false,
    skip_lines: 0,
    every_s: null,
    columns: [],
  };
  return { mapping, columns: [], lines: [], remarks: [remark] };
}

/** Share of signs that no text holds: controls, and what stands for bytes that could not be read. */
function oddShare(text: string): number {
  let odd = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if ((code < 32 && code !== 9 && code !== 10 && code !== 13) || code === 0xfffd) odd++;
  }
  return odd / Math.max(1, text.length);
}

/** Up to the last whole line, when the text was cut. */
function wholeLines(text: string, cut: boolean): string {
  const plain = plainLines(text);
  const end = plain.lastIndexOf('\n');
  return cut && end > 0 ? plain.slice(0, end) : plain;
}

/** Cells of some lines from further on, for the range of the figures. */
function laterRows(text: string, delimiter: TraceMapping['delimiter']): string[][] {
  if (text.length <= HEAD) return [];
  const rows: string[][] = [];
  for (let k = 1; k <= SAMPLES; k++) {
    const at = Math.floor(HEAD + ((text.length - HEAD - SAMPLE) * k) / SAMPLES);
    const lines = plainLines(text.slice(Math.max(HEAD, at), Math.max(HEAD, at) + SAMPLE)).split('\n');
    for (const line of lines.slice(1, -1))
      if (rows.length < 2_000) rows.push(line.split(delimiter).map((c) => c.trim()));
  }
  return rows;
}

const valueIn = (cell: string, comma: boolean): number => {
  if (looksLikeDate(cell)) return dateSeconds(cell);
  if (looksLikeClock(cell)) return clockSeconds(cell);
  return numberIn(cell, comma) ?? Number.NaN;
};

function figuresOf(rows: readonly string[][], column: number, comma: boolean): ColumnFigures {
  const cells = rows.map((row) => row[column] ?? '').filter((cell) => cell !== '');
  const good = cells.filter(isFigure);
  const values = good.map((cell) => valueIn(cell, comma)).filter(Number.isFinite);
  return {
    share: good.length / Math.max(1, cells.length),
    values,
    clock: good.length > 0 && good.filter(looksLikeClock).length > 0.6 * good.length,
    date: good.length > 0 && good.filter(looksLikeDate).length > 0.6 * good.length,
    whole: values.every(Number.isInteger),
  };
}

interface Judged {
  column: number;
  head: string;
  figures: ColumnFigures;
  /** Over all rows looked at. */
  all: ColumnFigures;
  use: ColumnUse | null;
  named: boolean;
  cellUnit: TraceUnit | null;
}

function judgeColumns(
  head: readonly string[],
  rows: readonly string[][],
  later: readonly string[][],
  comma: boolean,
  remarks: TraceRemark[],
): FoundColumn[] {
  const width = Math.max(...rows.map((row) => row.length), 0);
  const judged: Judged[] = Array.from({ length: width }, (_, column) => {
    const figures = figuresOf(rows, column, comma);
    const unit = unitBehind(rows.find((row) => isFigure(row[column] ?? ''))?.[column] ?? '');
    const named = useNamed(head[column] ?? '') ?? useOfUnit(unitInHeading(head[column] ?? ''));
    return {
      column,
      head: head[column] ?? '',
      figures,
      all: later.length === 0 ? figures : figuresOf([...rows, ...later], column, comma),
      use: figures.values.length === 0 ? 'skip' : named,
      named: named !== null,
      cellUnit: unit === '' ? null : unitNamed(unit),
    };
  });
  settleTime(judged);
  settleMasses(judged);
  return judged.map((entry) => found(entry, remarks));
}

/** A heading that names a unit says what stands below it. */
const useOfUnit = (unit: TraceUnit | null): ColumnUse | null =>
  unit === null
    ? null
    : ((['time', 'temperature', 'poured'] as const).find((use) => unitFits(use, unit)) ?? null);

/** One column is the time: one that is named so and rises, else the first that rises as times do. */
function settleTime(judged: Judged[]): void {
  const named = judged.filter(({ use }) => use === 'time');
  const rises = ({ figures }: Judged) => riseAsTimes(figures);
  const chosen =
    named.find((entry) => rises(entry) && !entry.figures.date) ??
    named.find(rises) ??
    judged.find(({ use, figures }) => use === null && (figures.clock || figures.date)) ??
    evenest(judged.filter((entry) => entry.use === null && rises(entry) && judged.length > 1)) ??
    named[0];
  for (const entry of named) if (entry !== chosen) entry.use = 'skip';
  if (chosen) chosen.use = 'time';
}

/** The column whose steps are most alike; of several about as good, the first, where people put the time. */
function evenest(columns: readonly Judged[]): Judged | undefined {
  const best = Math.max(0, ...columns.map(({ figures }) => evenness(figures)));
  return columns.find(({ figures }) => evenness(figures) >= 0.95 * best);
}

/** What is left without a name: temperatures where the figures are like them, else masses, the larger one what was poured. */
function settleMasses(judged: Judged[]): void {
  for (const entry of judged) {
    if (entry.use !== null) continue;
    if (entry.cellUnit) {
      entry.use = unitFits('temperature', entry.cellUnit)
        ? 'temperature'
        : unitFits('poured', entry.cellUnit)
          ? 'poured'
          : 'skip';
    } else
      entry.use =
        entry.figures.values.length === 0 ? 'skip' : likeTemperatures(entry.all) ? 'temperature' : 'poured';
  }
  const poured = judged.filter(({ use }) => use === 'poured');
  const free = poured.filter(({ named }) => !named);
  if (poured.length < 2) return;
  const reach = ({ all }: Judged) => Math.max(...all.values) - (all.values[0] ?? 0);
  const first = poured.find(({ named }) => named) ?? free.toSorted((a, b) => reach(b) - reach(a))[0]!;
  const second = judged.some(({ use }) => use === 'beverage')
    ? undefined
    : poured.filter((entry) => entry !== first).sort((a, b) => reach(b) - reach(a))[0];
  for (const entry of poured) if (entry !== first) entry.use = entry === second ? 'beverage' : 'skip';
}

function found(entry: Judged, remarks: TraceRemark[]): FoundColumn {
  const { column, head, all, named, cellUnit } = entry;
  const use = entry.use ?? 'skip';
  const name = nameOf(entry);
  const [from, to] = all.values.length > 0 ? [least(all.values), most(all.values)] : [null, null];
  const said = [unitInHeading(head), cellUnit].find((unit) => unit !== null && unitFits(use, unit)) ?? null;
  const written: TimeUnit | null =
    use === 'time' && all.date ? 'date' : use === 'time' && all.clock ? 'clock' : null;
  const unit = use === 'skip' ? null : (written ?? said ?? unitFromFigures(use, all));
  if (use !== 'skip' && !named)
    remarks.push(traceRemark('note', 'use_guessed', { column: name, use: USES[use] }));
  if (unit !== null && said === null && written === null && !plainly(use, unit))
    remarks.push(
      traceRemark('caution', 'unit_guessed', {
        column: name,
        from: figure(from ?? 0, 2),
        to: figure(to ?? 0, 2),
        unit,
      }),
    );
  else if (unit !== null) remarks.push(...unlikely(use, unit, name, from, to));
  return {
    column,
    use,
    unit,
    place: use === 'temperature' ? placeNamed(head) : null,
    head,
    because: named ? 'heading' : use === 'skip' ? 'nothing' : 'figures',
    figures: all.share,
    from,
    to,
  };
}

/** Grams, seconds and °C need no remark: they are what everybody writes. */
const plainly = (use: ColumnUse, unit: TraceUnit): boolean =>
  unit === { time: 's', poured: 'g', beverage: 'g', temperature: 'C', skip: '' }[use];

/** Words for what a column is, as sentences use them. */
export const USES: Readonly<Record<ColumnUse, string>> = {
  time: 'the time',
  poured: 'the water poured',
  beverage: 'the beverage',
  temperature: 'a temperature',
  skip: 'nothing',
};

/** A unit that was said and cannot be: 300 kg of water, a bed at 190 °C. */
export function unlikely(
  use: ColumnUse,
  unit: TraceUnit,
  column: string,
  from: number | null,
  to: number | null,
): TraceRemark[] {
  if (from === null || to === null || !unitFits(use, unit) || use === 'time' || use === 'skip') return [];
  const ours = (x: number) => inOurUnit(x, unit as Parameters<typeof inOurUnit>[1]);
  const [low, high] = [ours(from), ours(to)];
  const odd =
    use === 'temperature'
      ? high > 106 || low < -40
      : Math.max(Math.abs(low), high) > 10_000 || high - low < 1;
  if (!odd) return [];
  const shown = use === 'temperature' ? '°C' : 'g';
  return [
    traceRemark('caution', 'unit_unlikely', { column, unit, from: figure(low), to: figure(high), shown }),
  ];
}

const least = (values: readonly number[]): number =>
  values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
const most = (values: readonly number[]): number =>
  values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
