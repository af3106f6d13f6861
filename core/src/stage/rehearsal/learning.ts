import { tAbove, tQuantile } from '../../panel/distributions.ts';

/** Change of a time over runs, as a straight line. */
export interface Drift {
  n: number;
  /** [s per run], and the 90 % interval of it. */
  per_run_s: number;
  low_s: number;
  high_s: number;
  /** Chance of a change as large when there is none (two-sided t with n − 2 degrees of freedom). */
  p: number;
  /** `cannot tell` when the interval holds zero. */
  verdict: 'shorter' | 'longer' | 'cannot tell';
  /** What the next run would be by this line, and the 90 % interval of a single run. */
  next_s: number;
  next_low_s: number;
  next_high_s: number;
}

/**
 * Least-squares line through times in the order of the runs, with its own interval and that of the next run: honest width, which three runs
 * make wide. Null with fewer than three, because nothing is left then to tell the spread from.
 */
export function driftOf(times: readonly number[]): Drift | null {
  const line = lineThrough(times);
  if (!line) return null;
  const { n, middle, mean, slope, width, scatter } = line;
  const t = tQuantile(0.95, n - 2);
  const se = scatter / Math.sqrt(width);
  const next = mean + slope * (n - middle);
  const nextSe = scatter * Math.sqrt(1 + 1 / n + (n - middle) ** 2 / width);
  const p = se === 0 ? (slope === 0 ? 1 : 0) : 2 * tAbove(Math.abs(slope) / se, n - 2);
  const [low_s, high_s] = [slope - t * se, slope + t * se];
  return {
    n,
    per_run_s: slope,
    low_s,
    high_s,
    p,
    verdict: high_s < 0 ? 'shorter' : low_s > 0 ? 'longer' : 'cannot tell',
    next_s: next,
    next_low_s: next - t * nextSe,
    next_high_s: next + t * nextSe,
  };
}

function lineThrough(times: readonly number[]) {
  const n = times.length;
  if (n < 3) return null;
  const middle = (n - 1) / 2;
  const mean = times.reduce((a, b) => a + b, 0) / n;
  const width = times.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  const slope = times.reduce((sum, t, i) => sum + (i - middle) * (t - mean), 0) / width;
  const left = times.reduce((sum, t, i) => sum + (t - mean - slope * (i - middle)) ** 2, 0);
  return { n, middle, mean, slope, width, scatter: Math.sqrt(left / (n - 2)) };
}

/** A learning curve T = T₁ · n^−a. */
export interface Learning {
  n: number;
  /** Exponent, and the 90 % interval of it; 0 is no learning. */
  exponent: number;
  low: number;
  high: number;
  first_s: number;
  /** What doubling the number of runs makes of a time, 2^−a, with its interval; 1 is no learning. */
  per_doubling: number;
  per_doubling_low: number;
  per_doubling_high: number;
  verdict: 'learning' | 'getting slower' | 'cannot tell';
}

/**
 * The power law of practice (Newell & Rosenbloom 1981, from memory): a straight line of ln T over ln n. Null with fewer than three runs or when a time is
 * not above zero.
 */
export function learningOf(times: readonly number[]): Learning | null {
  const n = times.length;
  if (n < 3 || times.some((t) => !(t > 0))) return null;
  const x = times.map((_, i) => Math.log(i + 1));
  const y = times.map(Math.log);
  const [mx, my] = [x, y].map((list) => list.reduce((a, b) => a + b, 0) / n) as [number, number];
  const width = x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
  const slope = x.reduce((sum, v, i) => sum + (v - mx) * (y[i]! - my), 0) / width;
  const left = x.reduce((sum, v, i) => sum + (y[i]! - my - slope * (v - mx)) ** 2, 0);
  const reach = tQuantile(0.95, n - 2) * Math.sqrt(left / (n - 2) / width);
  const [low, high] = [-slope - reach, -slope + reach];
  return {
    n,
    exponent: -slope,
    low,
    high,
    first_s: Math.exp(my - slope * mx),
    per_doubling: 2 ** slope,
    per_doubling_low: 2 ** -high,
    per_doubling_high: 2 ** -low,
    verdict: low > 0 ? 'learning' : high < 0 ? 'getting slower' : 'cannot tell',
  };
}
