import { longestStep, usualStep } from './read.ts';

/** Finest step that masses are looked at in [s]; no hand is faster. */
const FINEST = 0.1;

/** A row of values over even steps of time. NaN in gaps. */
export interface EvenSteps {
  step_s: number;
  /** Moment of the first value [s]. */
  start_s: number;
  value: Float64Array;
}

/**
 * Brings values to even steps: the mean of what falls into a step, a straight line between neighbours where nothing does, NaN where the next
 * neighbour is too far. Linear time.
 * @param step Step wanted [s]; by default the usual one of the recording, and 0.1 s at the finest.
 */
export function toEvenSteps(
  time_s: Float64Array,
  value: Float64Array,
  step = Math.max(FINEST, usualStep(time_s)),
): EvenSteps {
  const start = time_s[0] ?? 0;
  const last = time_s[time_s.length - 1] ?? 0;
  const n = time_s.length === 0 ? 0 : Math.floor((last - start) / step + 0.5) + 1;
  const sums = new Float64Array(n);
  const counts = new Float64Array(n);
  for (let i = 0; i < time_s.length; i++) {
    const v = value[i]!;
    if (Number.isNaN(v)) continue;
    const k = Math.min(n - 1, Math.max(0, Math.floor((time_s[i]! - start) / step + 0.5)));
    sums[k]! += v;
    counts[k]!++;
  }
  const found = new Float64Array(n).fill(Number.NaN);
  for (let k = 0; k < n; k++) if (counts[k]! > 0) found[k] = sums[k]! / counts[k]!;
  bridge(found, Math.round(longestStep(time_s) / step));
  return { step_s: step, start_s: start, value: found };
}

/** Draws straight lines over missing values, up to `reach` steps long; in place. */
export function bridge(values: Float64Array, reach: number): void {
  let before = -1;
  for (let k = 0; k < values.length; k++) {
    if (Number.isNaN(values[k]!)) continue;
    const steps = k - before;
    if (before >= 0 && steps > 1 && steps <= reach)
      for (let j = before + 1; j < k; j++)
        values[j] = values[before]! + ((values[k]! - values[before]!) * (j - before)) / steps;
    before = k;
  }
}

/** Middle one of values; NaN for none. Sorts a copy. */
export function middle(values: readonly number[] | Float64Array): number {
  if (values.length === 0) return Number.NaN;
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** Running median over `2·half + 1` values; takes away what is shorter than half of that and keeps every edge and ramp. */
export function runningMedian(values: Float64Array, half: number): Float64Array {
  const n = values.length;
  const found = new Float64Array(n);
  const window: number[] = [];
  const insert = (v: number): void => {
    if (Number.isNaN(v)) return;
    let at = window.length;
    while (at > 0 && window[at - 1]! > v) at--;
    window.splice(at, 0, v);
  };
  const remove = (v: number): void => {
    if (Number.isNaN(v)) return;
    window.splice(window.indexOf(v), 1);
  };
  for (let k = 0; k < Math.min(half, n); k++) insert(values[k]!);
  for (let k = 0; k < n; k++) {
    if (k + half < n) insert(values[k + half]!);
    if (k - half - 1 >= 0) remove(values[k - half - 1]!);
    // Near the ends the window is cut to the same reach on both sides, so that a ramp stays one.
    const reach = Math.min(half, k, n - 1 - k);
    found[k] = Number.isNaN(values[k]!)
      ? Number.NaN
      : reach === half
        ? (window[window.length >> 1] ?? values[k]!)
        : middle(values.subarray(k - reach, k + reach + 1).filter((v) => !Number.isNaN(v)));
  }
  return found;
}

/** Slope of a straight line through `2·half + 1` neighbours, by least squares, per second. */
export function slopes(values: Float64Array, step_s: number, half: number): Float64Array {
  const n = values.length;
  const found = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const reach = Math.max(1, Math.min(half, k, n - 1 - k));
    let top = 0;
    let bottom = 0;
    for (let j = 1; j <= reach; j++) {
      const [a, b] = [values[k - j], values[k + j]];
      if (a === undefined || b === undefined || Number.isNaN(a) || Number.isNaN(b)) continue;
      top += j * (b - a);
      bottom += 2 * j * j;
    }
    found[k] = bottom > 0 ? top / (bottom * step_s) : 0;
  }
  return found;
}

/** Standard deviation of noise from second differences, whatever the values do smoothly: the middle |difference| over 0.6745·√6. */
export function noiseOf(values: Float64Array): number {
  const every = Math.max(1, Math.floor(values.length / 4_000));
  const seconds: number[] = [];
  for (let k = 1; k + 1 < values.length; k += every) {
    const d = values[k + 1]! - 2 * values[k]! + values[k - 1]!;
    if (!Number.isNaN(d)) seconds.push(Math.abs(d));
  }
  const found = middle(seconds) / (0.6745 * Math.sqrt(6));
  return Number.isNaN(found) ? 0 : found;
}
