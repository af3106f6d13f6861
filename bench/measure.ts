import { cpus } from 'node:os';
import { performance } from 'node:perf_hooks';

/** Times of one piece of work [ms]. */
export interface Timing {
  runs: number;
  median_ms: number;
  /** Nine of ten runs are at most this long. */
  p90_ms: number;
  fastest_ms: number;
}

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;

export function timingOf(times_ms: readonly number[]): Timing {
  const sorted = [...times_ms].sort((a, b) => a - b);
  return { runs: sorted.length, median_ms: at(sorted, 0.5), p90_ms: at(sorted, 0.9), fastest_ms: sorted[0]! };
}

/**
 * Runs `work` as often as the bounds say, after a few runs that do not count (the compiler warms up): `runs` times,
 * or until `most_ms` have gone, but three times at least.
 */
export async function measure(
  work: () => unknown,
  { runs = 25, most_ms = 2_500 }: { runs?: number; most_ms?: number } = {},
): Promise<Timing> {
  const times: number[] = [];
  let began = performance.now();
  for (let i = 0; i < runs && (i < 1 || performance.now() - began < most_ms / 4); i++) await work();
  began = performance.now();
  while (times.length < 3 || (times.length < runs && performance.now() - began < most_ms)) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return timingOf(times);
}

/** What the numbers were measured on. */
export const machine = (): string =>
  `Node ${process.versions.node}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? 'unknown processor'}`;

/** Exponent b of time = a·sizeᵇ by least squares on logarithms: 1 is linear growth. */
export function growth(sizes: readonly number[], times: readonly number[]): number {
  const x = sizes.map(Math.log);
  const y = times.map(Math.log);
  const mean = (v: readonly number[]) => v.reduce((a, b) => a + b, 0) / v.length;
  const mx = mean(x);
  const my = mean(y);
  const sxy = x.reduce((sum, xi, i) => sum + (xi - mx) * (y[i]! - my), 0);
  const sxx = x.reduce((sum, xi) => sum + (xi - mx) ** 2, 0);
  return sxy / sxx;
}
