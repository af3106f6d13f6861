import { type Chance, chanceFrom } from './random.ts';
import type { PermutationP } from './row-permutations.ts';

/** A word from when it was ticked until it was taken off, or until another became dominant [s]. */
export interface Ticked {
  word: number;
  from_s: number;
  to_s: number;
}

/** One sip of one taster: what was ticked when. */
export interface TemporalRun {
  taster: number;
  ticks: readonly Ticked[];
}

/** Share of runs in which each word was ticked, over time: [word][point]. */
export interface TemporalCurves {
  /** Middle of each point: seconds, or per cent of the time from first click to end. */
  times: number[];
  shares: number[][];
  /** 5 % and 95 % of tasters drawn anew, whole. */
  low: number[][];
  high: number[][];
  runs: number;
  tasters: number;
}

/** On which points of time curves are given, and how many times tasters are drawn anew for the bands. */
export interface TemporalGrid {
  words: number;
  /** End [s]; null: each run is stretched from its first click to its end, 0–100 %, as is usual for dominance. */
  end_s: number | null;
  points?: number;
  /** A tick fades by itself after this long [s]; null: it stays until taken off. */
  fade_s?: number | null;
  resamples?: number;
  seed?: number;
}

/** Clicks of a dominance ballot as spans: each word lasts until the next click or the end. */
export const spansOfClicks = (clicks: readonly { word: number; at_s: number }[], end_s: number): Ticked[] =>
  [...clicks]
    .sort((a, b) => a.at_s - b.at_s)
    .map(({ word, at_s }, i, all) => ({ word, from_s: at_s, to_s: all[i + 1]?.at_s ?? end_s }));

/** 1 where a word is on, 0 where it is off: [word][point], flat. */
function onOff(run: TemporalRun, { words, end_s, fade_s = null, points = 50 }: TemporalGrid): Float64Array {
  const on = new Float64Array(words * points);
  if (run.ticks.length === 0) return on;
  const start = end_s === null ? Math.min(...run.ticks.map((t) => t.from_s)) : 0;
  const end = end_s ?? Math.max(...run.ticks.map((t) => t.to_s));
  for (let i = 0; i < points; i++) {
    const t = start + ((i + 0.5) / points) * (end - start);
    for (const { word, from_s, to_s } of run.ticks) {
      const until = fade_s === null ? to_s : Math.min(to_s, from_s + fade_s);
      if (t >= from_s && t < until) on[word * points + i] = 1;
    }
  }
  return on;
}

/** Sum of runs of each taster, with how many there are. */
function byTaster(runs: readonly TemporalRun[], grid: TemporalGrid): { sum: Float64Array; runs: number }[] {
  const found = new Map<number, { sum: Float64Array; runs: number }>();
  for (const run of runs) {
    const on = onOff(run, grid);
    const own = found.get(run.taster);
    if (own) {
      own.runs++;
      for (let i = 0; i < on.length; i++) own.sum[i]! += on[i]!;
    } else found.set(run.taster, { sum: on, runs: 1 });
  }
  return [...found.keys()].sort((a, b) => a - b).map((taster) => found.get(taster)!);
}

/**
 * Share of runs in which each word was on, over time, with bands from drawing whole tasters anew (a taster's runs belong together).
 * For check-all over time and for dominance alike.
 */
export function temporalCurves(runs: readonly TemporalRun[], grid: TemporalGrid): TemporalCurves {
  const { words, end_s, points = 50, resamples = 400, seed = 1 } = grid;
  const tasters = byTaster(runs, grid);
  const share = (of: readonly { sum: Float64Array; runs: number }[]) => {
    const total = of.reduce((t, own) => t + own.runs, 0);
    const out = new Float64Array(words * points);
    for (const { sum } of of) for (let i = 0; i < out.length; i++) out[i]! += sum[i]! / total;
    return out;
  };
  const chance = chanceFrom(seed);
  const drawn = Array.from({ length: resamples }, () =>
    share(tasters.map(() => tasters[chance.whole(0, tasters.length - 1)]!)),
  );
  const band = (at: number) =>
    Float64Array.from({ length: words * points }, (_, i) => {
      const sorted = drawn.map((curve) => curve[i]!).sort((a, b) => a - b);
      return sorted[Math.round(at * (sorted.length - 1))]!;
    });
  const unflatten = (flat: Float64Array) =>
    Array.from({ length: words }, (_, w) => Array.from(flat.subarray(w * points, (w + 1) * points)));
  return {
    times: Array.from({ length: points }, (_, i) => ((i + 0.5) / points) * (end_s ?? 100)),
    shares: unflatten(share(tasters)),
    low: unflatten(band(0.05)),
    high: unflatten(band(0.95)),
    runs: runs.length,
    tasters: tasters.length,
  };
}

/** Chance level of dominance and the share above which it is shown at 5 %, at one time: P₀ + 1.645 √(P₀(1−P₀)/n); Pineau 2009 (from memory). */
export function dominanceLevels(words: number, runs: number): { chance: number; shown: number } {
  const chance = 1 / words;
  return { chance, shown: chance + 1.645 * Math.sqrt((chance * (1 - chance)) / runs) };
}

/** Difference of two cups over time. */
export interface TemporalDifference {
  times: number[];
  /** Share of the first minus share of the second: [word][point]. */
  difference: number[][];
  /** Largest difference, and where. */
  largest: { word: number; time: number; difference: number };
  /** Chance of as large a difference at any time of any word, when the cups are alike: all words and times are paid for. */
  p: PermutationP;
  /** Least difference that counts at 5 %, anywhere; larger than 1 when nothing could. */
  threshold: number;
}

/** Tasters up to which all exchanges of the two cups are gone through. */
const MOST_TASTERS = 12;

/**
 * Differences of two cups tasted by the same people. Within each taster the cups are exchanged at random; the largest difference over all
 * words and times is compared, so no second is tested on its own. null when fewer than two tasters tasted both.
 */
export function temporalDifference(
  first: readonly TemporalRun[],
  second: readonly TemporalRun[],
  grid: TemporalGrid,
): TemporalDifference | null {
  const both = [...new Set(first.map((r) => r.taster))].filter((t) => second.some((r) => r.taster === t));
  if (both.length < 2) return null;
  const { words, points = 50, end_s, resamples = 2000, seed = 1 } = grid;
  const share = (runs: readonly TemporalRun[], taster: number) => {
    const own = byTaster(
      runs.filter((r) => r.taster === taster),
      grid,
    )[0]!;
    return own.sum.map((v) => v / own.runs);
  };
  const differences = both.map((taster) => {
    const b = share(second, taster);
    return share(first, taster).map((v, i) => v - b[i]!);
  });
  const meanOf = (signs: readonly number[]) => {
    const out = new Float64Array(words * points);
    differences.forEach((d, t) => {
      for (let i = 0; i < out.length; i++) out[i]! += (signs[t]! * d[i]!) / differences.length;
    });
    return out;
  };
  const mean = meanOf(both.map(() => 1));
  const at = mean.reduce((best, v, i) => (Math.abs(v) > Math.abs(mean[best]!) ? i : best), 0);
  const maxima = signSets(both.length, resamples, chanceFrom(seed)).map((signs) => largest(meanOf(signs)));
  const seen = Math.abs(mean[at]!);
  const all = both.length <= MOST_TASTERS;
  const reached = maxima.filter((v) => v >= seen - 1e-12).length;
  const sorted = [...maxima].sort((a, b) => a - b);
  const p = all ? reached / maxima.length : (reached + 1) / (maxima.length + 1);
  const times = Array.from({ length: points }, (_, i) => ((i + 0.5) / points) * (end_s ?? 100));
  return {
    times,
    difference: Array.from({ length: words }, (_, w) =>
      Array.from(mean.subarray(w * points, (w + 1) * points)),
    ),
    largest: { word: Math.floor(at / points), time: times[at % points]!, difference: mean[at]! },
    p: { p, from: all ? 'all' : maxima.length },
    threshold: thresholdOf(sorted),
  };
}

const largest = (curve: Float64Array): number => curve.reduce((t, v) => Math.max(t, Math.abs(v)), 0);

/** Smallest value that at most 5 % of the maxima reach; 2, which no difference of shares can be, when even the largest is too common. */
function thresholdOf(sorted: readonly number[]): number {
  const allowed = Math.floor(0.05 * sorted.length);
  for (const [i, v] of sorted.entries())
    if (sorted.length - i <= allowed && (i === 0 || sorted[i - 1]! < v - 1e-12)) return v;
  return 2;
}

function signSets(tasters: number, resamples: number, chance: Chance): number[][] {
  if (tasters <= MOST_TASTERS)
    return Array.from({ length: 2 ** tasters }, (_, code) =>
      Array.from({ length: tasters }, (__, t) => ((code >> t) & 1 ? -1 : 1)),
    );
  return Array.from({ length: resamples }, () =>
    Array.from({ length: tasters }, () => 2 * chance.whole(0, 1) - 1),
  );
}
