import { eachRow, type GreyImage, type Tick } from './image.ts';

/** Counts of light in even bins from 0 to {@link TOP}. */
const BINS = 600;
const TOP = 1.5;

/** What the light of a flattened picture says about grains and sheet. */
export interface Levels {
  /** Light at which an edge is cut: halfway between grains and sheet. */
  threshold: number;
  /** Median light of the grains; the sheet is 1. */
  grain: number;
  /** Robust standard deviation of the light of the sheet. */
  noise: number;
  /** Share of the picture that is darker than the threshold. */
  covered: number;
  /**
   * Pixels near the threshold against those at the lower of the two peaks, per width: 0 is two clean peaks, 1 or more is no valley.
   */
  valley: number;
}

/** Counts the light of a picture. Light beyond the ends goes to the end bins. */
export function histogramOf({ width, height, data }: GreyImage, tick: Tick): Float64Array {
  const counts = new Float64Array(BINS);
  eachRow(height, tick, (y) => {
    for (let i = y * width, end = i + width; i < end; i++) {
      const v = data[i]!;
      counts[Math.min(BINS - 1, Math.max(0, Math.floor((v / TOP) * BINS)))]!++;
    }
  });
  return counts;
}

/** Otsu's threshold (IEEE Trans. SMC 9, 62, 1979): the cut with the largest variance between both sides. */
export function otsu(counts: Float64Array): number {
  let total = 0;
  let sum = 0;
  counts.forEach((n, k) => {
    total += n;
    sum += n * k;
  });
  let below = 0;
  let sumBelow = 0;
  let best = -1;
  let first = 0;
  let last = 0;
  for (let k = 0; k < BINS - 1; k++) {
    below += counts[k]!;
    sumBelow += counts[k]! * k;
    if (below === 0 || below === total) continue;
    const gap = sumBelow / below - (sum - sumBelow) / (total - below);
    const between = below * (total - below) * gap * gap;
    if (between > best * (1 + 1e-12)) {
      best = between;
      first = k;
    }
    if (between >= best * (1 - 1e-12)) last = k;
  }
  return ((first + last + 2) / 2 / BINS) * TOP;
}

/**
 * Levels of a flattened picture. Otsu's cut is the start; it leans to the larger side, so the cut is then moved to half-way
 * between the medians of both sides until it stays.
 */
export function levelsOf(counts: Float64Array): Levels {
  let threshold = otsu(counts);
  let grain = 0;
  for (let round = 0; round < 30; round++) {
    const cut = binOf(threshold);
    grain = quantileOf(counts, 0, cut, 0.5);
    const sheet = quantileOf(counts, cut, BINS, 0.5);
    const next = (grain + sheet) / 2;
    if (Math.abs(next - threshold) < 0.5 / BINS) break;
    threshold = next;
  }
  const cut = binOf(threshold);
  const sheet = quantileOf(counts, cut, BINS, 0.5);
  // The upper half of the sheet's own spread: its lower half holds blurred edges and shadows.
  const noise = quantileOf(counts, cut, BINS, 0.5 + 0.3413) - sheet;
  const total = counts.reduce((a, b) => a + b, 0);
  const dark = counts.subarray(0, cut).reduce((a, b) => a + b, 0);
  return {
    threshold,
    grain,
    noise,
    covered: total > 0 ? dark / total : 0,
    valley: valleyOf(counts, grain, sheet),
  };
}

const binOf = (level: number): number => Math.min(BINS - 1, Math.max(1, Math.round((level / TOP) * BINS)));

/** Quantile of the counts of bins from `from` up to `to` [light]; the middle of the range when it is empty. */
function quantileOf(counts: Float64Array, from: number, to: number, at: number): number {
  let total = 0;
  for (let k = from; k < to; k++) total += counts[k]!;
  if (total === 0) return ((from + to) / 2 / BINS) * TOP;
  let sum = 0;
  for (let k = from; k < to; k++) {
    if (sum + counts[k]! >= at * total)
      return ((k + (at * total - sum) / Math.max(1, counts[k]!)) / BINS) * TOP;
    sum += counts[k]!;
  }
  return (to / BINS) * TOP;
}

/** Mean count of bins in the middle fifth between both levels, over the mean count around the lower peak. */
function valleyOf(counts: Float64Array, grain: number, sheet: number): number {
  const span = sheet - grain;
  if (!(span > 0)) return 1;
  const mean = (from: number, to: number): number => {
    const a = Math.max(0, Math.floor((from / TOP) * BINS));
    const b = Math.min(BINS, Math.max(a + 1, Math.ceil((to / TOP) * BINS)));
    let sum = 0;
    for (let k = a; k < b; k++) sum += counts[k]!;
    return sum / (b - a);
  };
  const middle = mean(grain + 0.4 * span, grain + 0.6 * span);
  const peak = Math.min(
    mean(grain - 0.1 * span, grain + 0.1 * span),
    mean(sheet - 0.1 * span, sheet + 0.1 * span),
  );
  return peak > 0 ? middle / peak : 1;
}
