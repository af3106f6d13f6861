/**
 * From trace arrays to points on screen. The grid of a trace is uneven and may be finer than a pixel, so each column of
 * pixels keeps its first, lowest, highest and last point: nothing a person could see is lost.
 */
import type { TimeAxis } from './time-axis.ts';

/** Caller-owned room for a path, reused from frame to frame. `xy` holds x, y pairs; NaN breaks the line. */
export interface PathBuffer {
  xy: Float64Array;
  /** Number of points. */
  length: number;
}

/** Room for `points` points. */
export const pathBuffer = (points: number): PathBuffer => ({ xy: new Float64Array(points * 2), length: 0 });

/** Maps a value to a vertical position [px]. */
export interface Vertical {
  /** Position of value 0 [px]. */
  zero_px: number;
  /** Pixels per unit, negative because up is less. */
  per_unit: number;
}

function push(path: PathBuffer, x: number, y: number): void {
  if (path.length * 2 + 2 > path.xy.length) {
    const larger = new Float64Array(path.xy.length * 2 + 2);
    larger.set(path.xy);
    path.xy = larger;
  }
  path.xy[path.length * 2] = x;
  path.xy[path.length * 2 + 1] = y;
  path.length++;
}

/**
 * Builds the line of `values` [n] over `time_s` [n] into `path` and returns it. One point beyond each edge of the
 * axis is kept so that lines run out of the frame. `offset` picks a row out of a larger array.
 */
export function buildLine(
  path: PathBuffer,
  axis: TimeAxis,
  time_s: Float64Array,
  values: Float64Array,
  vertical: Vertical,
  offset = 0,
): PathBuffer {
  path.length = 0;
  const perSecond = axis.width_px / (axis.to_s - axis.from_s);
  const n = time_s.length;
  let i = Math.max(0, lowerBound(time_s, axis.from_s) - 1);
  const stop = Math.min(n - 1, lowerBound(time_s, axis.to_s));
  let column = Number.NEGATIVE_INFINITY;
  let lowY = 0;
  let highY = 0;
  let lastX = 0;
  let lastY = Number.NaN;
  let count = 0;
  const flush = (): void => {
    if (count > 1) {
      if (highY !== lastY) push(path, lastX, highY);
      if (lowY !== lastY && lowY !== highY) push(path, lastX, lowY);
      push(path, lastX, lastY);
    }
    count = 0;
  };
  for (; i <= stop; i++) {
    const x = (time_s[i]! - axis.from_s) * perSecond;
    const y = vertical.zero_px + values[offset + i]! * vertical.per_unit;
    if (Number.isNaN(y)) {
      flush();
      if (path.length > 0 && !Number.isNaN(path.xy[path.length * 2 - 1]!)) push(path, x, Number.NaN);
      column = Number.NEGATIVE_INFINITY;
      continue;
    }
    const at = Math.floor(x);
    if (at !== column) {
      flush();
      push(path, x, y);
      column = at;
      lowY = highY = y;
      count = 1;
    } else {
      lowY = Math.min(lowY, y);
      highY = Math.max(highY, y);
      count++;
    }
    lastX = x;
    lastY = y;
  }
  flush();
  return path;
}

/** First index whose time is not before `time_s`; `n` when all are. Times must rise. */
export function lowerBound(times: Float64Array, time_s: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! < time_s) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Value at a moment by straight interpolation; NaN outside the trace or beside a gap. `offset` picks a row out of a larger
 * array.
 */
export function valueAt(times: Float64Array, values: Float64Array, time_s: number, offset = 0): number {
  const n = times.length;
  if (n === 0 || time_s < times[0]! || time_s > times[n - 1]!) return Number.NaN;
  const i = lowerBound(times, time_s);
  if (times[i] === time_s || i === 0) return values[offset + i]!;
  const t0 = times[i - 1]!;
  const t1 = times[i]!;
  const share = t1 > t0 ? (time_s - t0) / (t1 - t0) : 0;
  return values[offset + i - 1]! * (1 - share) + values[offset + i]! * share;
}

/** Running sums for stacked areas: `out[(k+1)*n + i]` is the total of rows 0…k at moment i; row 0 of `out` is zero. */
export function stackRows(rows: Float64Array, count: number, n: number, out?: Float64Array): Float64Array {
  const sums = out && out.length === (count + 1) * n ? out : new Float64Array((count + 1) * n);
  sums.fill(0, 0, n);
  for (let k = 0; k < count; k++)
    for (let i = 0; i < n; i++) {
      const value = rows[k * n + i]!;
      sums[(k + 1) * n + i] = sums[k * n + i]! + (Number.isFinite(value) ? value : 0);
    }
  return sums;
}

/** Largest finite value of a row; `otherwise` when there is none. */
export function maxOf(values: Float64Array, otherwise = 0, from = 0, to = values.length): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let i = from; i < to; i++) if (values[i]! > most) most = values[i]!;
  return Number.isFinite(most) ? most : otherwise;
}
