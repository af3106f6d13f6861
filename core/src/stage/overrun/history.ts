import { tAbove } from '../../panel/distributions.ts';

/** Mean and spread of some times [s]; the spread is null with fewer than two. */
export function momentsOf(times: readonly number[]): { n: number; mean: number; sd: number | null } {
  const n = times.length;
  const mean = times.reduce((sum, t) => sum + t, 0) / n;
  const square = times.reduce((sum, t) => sum + (t - mean) ** 2, 0);
  return { n, mean, sd: n > 1 ? Math.sqrt(square / (n - 1)) : null };
}

/**
 * Chance that the next run takes longer than `limit`, from whole runs: T = (limit − mean)/(s √(1 + 1/n)) with n − 1 degrees of freedom. Null with fewer
 * than two runs: nothing is known of the spread, and none is made up.
 */
export function chanceOver(times: readonly number[], limit: number): number | null {
  const { n, mean, sd } = momentsOf(times);
  if (sd === null) return null;
  if (sd === 0) return mean > limit ? 1 : 0;
  return tAbove((limit - mean) / (sd * Math.sqrt(1 + 1 / n)), n - 1);
}

/** Times of one segment over runs, in the order they were run; null where it was not measured. */
export interface SegmentHistory {
  id: string;
  times_s: readonly (number | null)[];
}

/** A segment with its spread drawn towards what all segments have in common. */
export interface SegmentForecast {
  id: string;
  n: number;
  mean: number;
  /** As measured; null with fewer than two times. */
  sd: number | null;
  /** Shrunk: this is what forecasts use. */
  shrunkSd: number;
  /** Degrees of freedom behind it. */
  df: number;
}

/** What the rehearsals say about the next run. */
export interface Forecast {
  segments: SegmentForecast[];
  /** Coefficient of variation that all segments share. */
  pooledCv: number;
  /** Spread of the pace that one run shares over all its segments (of its logarithm). */
  paceSd: number;
}

/** How many times' worth the pooled spread counts when one segment is judged; a choice: four rehearsals of its own weigh as much. */
export const PRIOR_TIMES = 4;

const present = ({ times_s }: SegmentHistory): number[] =>
  times_s.filter((t): t is number => t !== null && t > 0);

/**
 * Forecast from segments measured in several runs. The spread of each is pooled with the coefficient of variation of all, as PRIOR_TIMES
 * times; the pace a run shares is what its segments' deviations have in common, by moments. Null when no segment has been timed twice.
 */
export function forecastFrom(history: readonly SegmentHistory[]): Forecast | null {
  const measured = history.filter((segment) => present(segment).length > 0);
  let squares = 0;
  let freedom = 0;
  for (const segment of measured) {
    const { n, mean, sd } = momentsOf(present(segment));
    if (sd === null) continue;
    squares += (n - 1) * (sd / mean) ** 2;
    freedom += n - 1;
  }
  if (freedom === 0) return null;
  const pooledCv = Math.sqrt(squares / freedom);
  const segments = measured.map((segment): SegmentForecast => {
    const { n, mean, sd } = momentsOf(present(segment));
    const own = sd === null ? 0 : (n - 1) * sd ** 2;
    const df = n - 1 + PRIOR_TIMES;
    return {
      id: segment.id,
      n,
      mean,
      sd,
      df,
      shrunkSd: Math.sqrt((own + PRIOR_TIMES * (pooledCv * mean) ** 2) / df),
    };
  });
  return { segments, pooledCv, paceSd: sharedPace(measured) };
}

/**
 * Deviation of each run's segments from their own means, on the logarithm; what is common to a run is its pace. The average of products of two
 * different segments in one run estimates its variance without bias from each segment's own scatter.
 */
function sharedPace(history: readonly SegmentHistory[]): number {
  const runs = Math.max(0, ...history.map(({ times_s }) => times_s.length));
  const logs = history.map(({ times_s }) => {
    const seen = times_s.filter((t): t is number => t !== null && t > 0).map(Math.log);
    const mean = seen.reduce((a, b) => a + b, 0) / seen.length;
    // The mean of n runs takes 1/n of the spread away; √(n/(n − 1)) gives it back.
    const back = seen.length > 1 ? Math.sqrt(seen.length / (seen.length - 1)) : 0;
    return times_s.map((t) => (t === null || t <= 0 ? null : (Math.log(t) - mean) * back));
  });
  let sum = 0;
  let pairs = 0;
  for (let run = 0; run < runs; run++) {
    const here = logs.map((row) => row[run] ?? null).filter((d): d is number => d !== null);
    for (let i = 0; i < here.length; i++)
      for (let j = i + 1; j < here.length; j++) {
        sum += here[i]! * here[j]!;
        pairs++;
      }
  }
  return pairs === 0 ? 0 : Math.sqrt(Math.max(0, sum / pairs));
}

/** Change from run to run [s per run] and the chance of one as large without any (two-sided t); null with fewer than three. */
export function drift(times: readonly number[]): { perRun: number; p: number } | null {
  const n = times.length;
  if (n < 3) return null;
  const middle = (n - 1) / 2;
  const { mean } = momentsOf(times);
  const width = times.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  const perRun = times.reduce((sum, t, i) => sum + (i - middle) * (t - mean), 0) / width;
  const left = times.reduce((sum, t, i) => sum + (t - mean - perRun * (i - middle)) ** 2, 0);
  if (left === 0) return { perRun, p: perRun === 0 ? 1 : 0 };
  const t = perRun / Math.sqrt(left / (n - 2) / width);
  return { perRun, p: 2 * tAbove(Math.abs(t), n - 2) };
}

/** Where runs fall behind the plan: how late each segment ends on average [s], and which adds most. */
export function slips(history: readonly SegmentHistory[], planned_s: Readonly<Record<string, number>>) {
  let late = 0;
  const rows = history.flatMap((segment) => {
    const times = present(segment);
    const planned = planned_s[segment.id];
    if (times.length === 0 || planned === undefined) return [];
    const adds = momentsOf(times).mean - planned;
    late += adds;
    return [{ id: segment.id, adds_s: adds, late_s: late }];
  });
  const begins = rows.find(({ late_s }) => late_s > 1) ?? null;
  const worst = rows.length === 0 ? null : rows.reduce((a, b) => (b.adds_s > a.adds_s ? b : a));
  return { rows, begins: begins?.id ?? null, worst: worst && worst.adds_s > 0 ? worst.id : null };
}
