/** A temperature over time. */
export interface Course {
  time: ArrayLike<number>;
  temperature_C: ArrayLike<number>;
}

/** A course as an SVG path, thinned so that no two points lie closer than half a unit across. */
export function coursePath(
  { time, temperature_C }: Course,
  x: (time: number) => number,
  y: (T: number) => number,
): string {
  let path = '';
  let last = Number.NEGATIVE_INFINITY;
  const n = time.length;
  for (let i = 0; i < n; i++) {
    const at = x(time[i]!);
    if (i > 0 && i < n - 1 && at - last < 0.5) continue;
    path += `${path === '' ? 'M' : 'L'}${at.toFixed(1)} ${y(temperature_C[i]!).toFixed(1)}`;
    last = at;
  }
  return path;
}

/**
 * Round values within a range, ends included, by the smallest of `steps` that gives at most `most` of them; the largest step when
 * none does.
 */
export function ticks(from: number, to: number, steps: readonly number[], most: number): number[] {
  if (!(to >= from)) return [];
  const count = (step: number): number => Math.floor(to / step + 1e-9) - Math.ceil(from / step - 1e-9) + 1;
  const step = steps.find((candidate) => count(candidate) <= most) ?? steps.at(-1) ?? 1;
  const first = Math.ceil(from / step - 1e-9);
  return Array.from({ length: Math.max(0, count(step)) }, (_, i) => (first + i) * step);
}

/** The least and the most of some columns, ends widened to whole multiples of `step` [°C]. */
export function rangeOf(columns: readonly ArrayLike<number>[], step: number): { low: number; high: number } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const column of columns)
    for (let i = 0; i < column.length; i++) {
      low = Math.min(low, column[i]!);
      high = Math.max(high, column[i]!);
    }
  if (!(high >= low)) return { low: 0, high: step };
  low = Math.floor(low / step) * step;
  return { low, high: Math.max(low + step, Math.ceil(high / step) * step) };
}
