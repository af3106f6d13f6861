import { numberIn } from '../tables/index.ts';
import { cellsIn, plainLines } from './grid.ts';
import { Growing } from './grow.ts';
import { unlikely } from './look.ts';
import { type Ordered, orderTimes } from './order.ts';
import { figure, traceRemark } from './remarks.ts';
import { timeReader } from './times.ts';
import type {
  ColumnChoice,
  MassUnit,
  Recording,
  TemperatureUnit,
  TimeUnit,
  TraceChannel,
  TraceMapping,
  TraceRemark,
} from './types.ts';
import { inOurUnit, columnName as nameOf } from './units.ts';

/** Length of a piece that a whole text is read in. */
const PIECE = 1 << 20;
/** A gap is this many usual steps, and at least so long [s]. */
const GAP_STEPS = 8;
const GAP_S = 2;
/** Gaps that are named one by one. */
const NAMED_GAPS = 5;
/** Slower than this [s] and starts of pours are not found to half a second. */
const SLOW_STEP = 0.5;

/** Takes a file piece by piece, so that a long one never stands in memory twice. */
export interface TraceReader {
  /** Takes the next piece of text, cut anywhere. */
  feed(piece: string): void;
  /** What was read; the reader is done then. */
  finish(): Recording;
}

/** What could not be read in a column: how often, and the first of it. */
interface Missed {
  count: number;
  line: number;
  value: string;
}

/**
 * Starts to read a recording as `mapping` says. Time grows with the length of the text, memory with its rows. Never throws: lines and
 * cells that hold no figures are left out and told with their line, and everything that is odd about the times is set right or said.
 */
export function traceReader(mapping: TraceMapping): TraceReader {
  const number = numberReader(mapping.comma_decimals);
  const time = mapping.columns.find(({ use }) => use === 'time');
  const readTime = time ? timeReader(time.unit as TimeUnit, number) : null;
  const taken = mapping.columns.filter(({ use }) => use !== 'time' && use !== 'skip');
  const times = new Growing();
  const values = taken.map(() => new Growing());
  const missed: Missed[] = taken.map(() => ({ count: 0, line: 0, value: '' }));
  const lost: Missed = { count: 0, line: 0, value: '' };
  let began: string | null = null;
  let rest = '';
  let line = 0;

  const miss = (entry: Missed, value: string): void => {
    if (entry.count === 0) Object.assign(entry, { line, value });
    entry.count++;
  };
  const take = (row: readonly string[]): void => {
    line++;
    if (line <= mapping.skip_lines || row.every((cell) => cell === '')) return;
    const t = time && readTime ? readTime(row[time.column] ?? '') : times.length * (mapping.every_s ?? 1);
    const found = taken.map(({ column, unit }) => {
      const cell = row[column] ?? '';
      return cell === '' ? Number.NaN : inOurUnit(number(cell), unit as MassUnit | TemperatureUnit);
    });
    if (!Number.isFinite(t) || (!time && found.every(Number.isNaN))) {
      miss(lost, row.join(' ').slice(0, 60));
      return;
    }
    if (began === null && time?.unit === 'date') began = row[time.column] ?? null;
    times.push(t);
    found.forEach((value, i) => {
      if (Number.isNaN(value) && row[taken[i]!.column]) miss(missed[i]!, row[taken[i]!.column]!);
      values[i]!.push(value);
    });
  };
  const takeLines = (text: string): void => {
    for (const row of cellsIn(text, mapping.delimiter)) take(row);
  };
  return {
    feed(piece) {
      const text = rest + (line === 0 && rest === '' ? piece.replace(/^\uFEFF/, '') : piece);
      // A lone carriage return at the end may be half of a line end.
      const end = Math.max(text.lastIndexOf('\n'), text.endsWith('\r') ? -1 : text.lastIndexOf('\r'));
      if (end < 0) rest = text;
      else {
        rest = text.slice(end + 1);
        takeLines(plainLines(text.slice(0, end)));
      }
    },
    finish() {
      if (rest !== '') takeLines(plainLines(rest));
      return assemble(mapping, times.values(), values, { taken, missed, lost, began, time });
    },
  };
}

/** Reads a whole text; {@link traceReader}. */
export function readTrace(text: string, mapping: TraceMapping): Recording {
  const reader = traceReader(mapping);
  for (let at = 0; at < text.length; at += PIECE) reader.feed(text.slice(at, at + PIECE));
  return reader.finish();
}

/** Plain figures take the short way; everything else is read as people write it. */
function numberReader(comma: boolean): (cell: string) => number {
  return (cell) => {
    if (cell === '') return Number.NaN;
    const plain = Number(cell);
    if (Number.isFinite(plain)) return plain;
    return numberIn(cell, comma) ?? Number.NaN;
  };
}

interface Read {
  taken: readonly ColumnChoice[];
  missed: readonly Missed[];
  lost: Missed;
  began: string | null;
  time: ColumnChoice | undefined;
}

function assemble(
  mapping: TraceMapping,
  times: Float64Array,
  values: readonly Growing[],
  read: Read,
): Recording {
  const { taken, lost, time } = read;
  const daily = time?.unit === 'clock' || time?.unit === 'date';
  const ordered = orderTimes(times, daily);
  const remarks: TraceRemark[] = [];
  if (taken.length === 0) remarks.push(traceRemark('problem', 'nothing_taken'));
  if (lost.count > 0) {
    const rows = times.length + lost.count;
    remarks.push(
      traceRemark('caution', 'lines_not_read', {
        count: lost.count,
        rows,
        line: lost.line,
        value: JSON.stringify(lost.value),
      }),
    );
  }
  remarks.push(...timeRemarks(ordered, times.length, mapping, time));
  const channels = taken.map(
    (choice, i): TraceChannel => ({
      use: choice.use as TraceChannel['use'],
      place: choice.use === 'temperature' ? (choice.place ?? 'kettle') : null,
      name: nameOf(choice),
      value: inOrder(values[i]!.values(), ordered),
    }),
  );
  channels.forEach((channel, i) => {
    remarks.push(...channelRemarks(channel, taken[i]!, read.missed[i]!));
  });
  return {
    time_s: ordered.time_s,
    channels,
    began: read.began,
    rows: times.length,
    remarks,
  };
}

/** The values of the rows kept; a row joined to another gives what the other lacks, and its own where it has one. */
function inOrder(values: Float64Array, { rows, doubled }: Ordered): Float64Array {
  const found = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) found[i] = values[rows[i]!]!;
  if (doubled.length === 0) return found;
  const place = new Map<number, number>();
  for (let i = 0; i < rows.length; i++) place.set(rows[i]!, i);
  for (const [kept, joined] of doubled) {
    const value = values[joined]!;
    const at = place.get(kept);
    if (at !== undefined && !Number.isNaN(value)) found[at] = value;
  }
  return found;
}

function timeRemarks(
  ordered: Ordered,
  rows: number,
  mapping: TraceMapping,
  time: ColumnChoice | undefined,
): TraceRemark[] {
  const { time_s } = ordered;
  const column = time ? nameOf(time) : '';
  if (rows > 1 && time_s.length === 1 && ordered.doubled.length > 0)
    return [traceRemark('problem', 'time_stands_still')];
  if (rows > 3 && ordered.falling > 0.2 && !ordered.turned)
    return [traceRemark('problem', 'times_do_not_rise', { column })];
  const remarks: TraceRemark[] = [];
  if (time_s.length < 10) remarks.push(traceRemark('problem', 'few_rows', { count: time_s.length }));
  if (ordered.turned) remarks.push(traceRemark('note', 'times_turned'));
  if (ordered.recordings > 1)
    remarks.push(
      traceRemark('caution', 'several_recordings', {
        count: ordered.recordings - 1,
        line: ordered.from + mapping.skip_lines + 1,
      }),
    );
  if (ordered.outOfOrder > 0)
    remarks.push(traceRemark('note', 'out_of_order', { count: ordered.outOfOrder }));
  if (ordered.doubled.length > 0)
    remarks.push(traceRemark('note', 'times_doubled', { count: ordered.doubled.length }));
  if (ordered.pastMidnight) remarks.push(traceRemark('note', 'past_midnight'));
  return [...remarks, ...gapRemarks(time_s)];
}

/** The middle one of the steps between rows [s]. */
export function usualStep(time_s: Float64Array): number {
  // A few hundred steps say as much as a million.
  const every = Math.max(1, Math.floor(time_s.length / 500));
  const steps: number[] = [];
  for (let i = 1; i < time_s.length; i += every) steps.push(time_s[i]! - time_s[i - 1]!);
  return steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
}

/** Longest step between rows that is no gap [s]. */
export const longestStep = (time_s: Float64Array): number => Math.max(GAP_S, GAP_STEPS * usualStep(time_s));

function gapRemarks(time_s: Float64Array): TraceRemark[] {
  const step = usualStep(time_s);
  const limit = longestStep(time_s);
  const gaps: { at: number; length: number }[] = [];
  for (let i = 1; i < time_s.length; i++) {
    const length = time_s[i]! - time_s[i - 1]!;
    if (length > limit) gaps.push({ at: time_s[i - 1]!, length });
  }
  const remarks = gaps
    .slice(0, NAMED_GAPS)
    .map(({ at, length }) => traceRemark('caution', 'gap', { length: figure(length) }, figure(at)));
  if (gaps.length > NAMED_GAPS) {
    const length = figure(gaps.reduce((sum, gap) => sum + gap.length, 0));
    remarks.push(traceRemark('caution', 'gaps', { count: gaps.length, length }));
  }
  if (step > SLOW_STEP) remarks.push(traceRemark('caution', 'slow_rate', { step: figure(step, 2) }));
  return remarks;
}

function channelRemarks(channel: TraceChannel, choice: ColumnChoice, missed: Missed): TraceRemark[] {
  const remarks: TraceRemark[] = [];
  if (missed.count > 0)
    remarks.push(
      traceRemark('caution', 'cells_not_read', {
        column: channel.name,
        count: missed.count,
        line: missed.line,
        value: JSON.stringify(missed.value.slice(0, 40)),
      }),
    );
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const v of channel.value) {
    if (v < low) low = v;
    if (v > high) high = v;
  }
  if (choice.unit !== null && low <= high) {
    const ours = channel.use === 'temperature' ? 'C' : 'g';
    remarks.push(...unlikely(channel.use, ours, channel.name, low, high));
  }
  return remarks;
}
