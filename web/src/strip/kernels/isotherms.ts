/** The bed by depth and time on an even grid, and lines of equal temperature through it. */

import { type TimeAxis, toSeconds } from './time-axis.ts';
import { lowerBound } from './trace-path.ts';

/** A field on an even grid over the plot: `values[row * columns + column]`, row 0 at the top; NaN where unknown. */
export interface Field {
  columns: number;
  rows: number;
  values: Float64Array;
}

/**
 * Samples `[n][cells]` onto `columns` even moments of the axis. Rows are the cells. Columns outside the trace are NaN, and
 * so is what `known` (same shape) says is not there yet: zero or less. `into` is reused when its size fits.
 */
export function sampleField(
  axis: TimeAxis,
  time_s: Float64Array,
  data: Float64Array,
  cells: number,
  columns: number,
  into?: Field,
  known?: Float64Array,
): Field {
  const field =
    into && into.columns === columns && into.rows === cells
      ? into
      : { columns, rows: cells, values: new Float64Array(columns * cells) };
  const n = time_s.length;
  for (let c = 0; c < columns; c++) {
    const t = toSeconds(axis, ((c + 0.5) / columns) * axis.width_px);
    if (n === 0 || t < time_s[0]! || t > time_s[n - 1]!) {
      for (let r = 0; r < cells; r++) field.values[r * columns + c] = Number.NaN;
      continue;
    }
    const i = Math.max(1, lowerBound(time_s, t));
    const t0 = time_s[i - 1]!;
    const t1 = time_s[Math.min(i, n - 1)]!;
    const share = t1 > t0 ? (t - t0) / (t1 - t0) : 0;
    const a = (i - 1) * cells;
    const b = Math.min(i, n - 1) * cells;
    for (let r = 0; r < cells; r++) {
      const there = !known || (known[a + r]! > 0 && known[b + r]! > 0);
      field.values[r * columns + c] = there ? data[a + r]! * (1 - share) + data[b + r]! * share : Number.NaN;
    }
  }
  return field;
}

/** A piece of a line of equal value, in field coordinates (column, row; both fractional). */
export type Segment = readonly [x0: number, y0: number, x1: number, y1: number];

/**
 * Lines where the field equals each of `levels` (rising), as loose segments: marching squares, saddles split by their mean.
 * One pass over the field for all levels.
 */
export function isolines(field: Field, levels: readonly number[]): Segment[][] {
  const { columns, rows, values } = field;
  const segments: Segment[][] = levels.map(() => []);
  for (let r = 0; r < rows - 1; r++)
    for (let c = 0; c < columns - 1; c++) {
      const a = values[r * columns + c]!;
      const b = values[r * columns + c + 1]!;
      const d = values[(r + 1) * columns + c]!;
      const e = values[(r + 1) * columns + c + 1]!;
      if (Number.isNaN(a + b + d + e)) continue;
      const low = Math.min(a, b, d, e);
      const high = Math.max(a, b, d, e);
      for (let k = 0; k < levels.length; k++)
        if (levels[k]! >= low && levels[k]! < high) cell(segments[k]!, levels[k]!, c, r, a, b, e, d);
    }
  return segments;
}

/** Corners clockwise from the top left: a, b, e, d. */
function cell(
  out: Segment[],
  level: number,
  c: number,
  r: number,
  a: number,
  b: number,
  e: number,
  d: number,
): void {
  const key = (a > level ? 8 : 0) | (b > level ? 4 : 0) | (e > level ? 2 : 0) | (d > level ? 1 : 0);
  if (key === 0 || key === 15) return;
  const top = (): [number, number] => [c + (level - a) / (b - a), r];
  const right = (): [number, number] => [c + 1, r + (level - b) / (e - b)];
  const bottom = (): [number, number] => [c + (level - d) / (e - d), r + 1];
  const left = (): [number, number] => [c, r + (level - a) / (d - a)];
  const add = (p: [number, number], q: [number, number]): number => out.push([...p, ...q]);
  if (key === 5 || key === 10) {
    const middleHigh = (a + b + d + e) / 4 > level;
    if ((key === 10) === middleHigh) {
      add(top(), right());
      add(left(), bottom());
    } else {
      add(top(), left());
      add(right(), bottom());
    }
    return;
  }
  const low = Math.min(key, 15 - key);
  if (low === 1) add(left(), bottom());
  else if (low === 2) add(bottom(), right());
  else if (low === 3) add(left(), right());
  else if (low === 4) add(top(), right());
  else if (low === 6) add(top(), bottom());
  else if (low === 7) add(top(), left());
}
