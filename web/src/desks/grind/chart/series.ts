import { type Distribution, type SizeAnalysis, type SizeTable, tableOf } from '@pourline/core';

/** One distribution on the chart. */
export interface Series {
  id: string;
  name: string;
  /** What stands on the line itself: A, B, C … */
  letter: string;
  /** Which dash and mark it has: stays the same while others come and go. */
  place: number;
  line: SeriesLine;
  /** Limits of classes as measured, and the mass below each. */
  points: readonly { um: number; pct: number }[];
}

export interface SeriesLine {
  um: readonly number[];
  /** Mass that is finer, %. */
  below: readonly number[];
  /** 5 and 95 % of it; null where no spread is known. */
  low: readonly number[] | null;
  high: readonly number[] | null;
  /** Mass per decade of size, %. */
  density: readonly number[];
}

/** Letters of the lines, in their order. */
export const letterOf = (i: number): string => String.fromCharCode(65 + (i % 26));

/** The line of an analysis: its fit with the spread, or what was measured joined up. */
export function lineOfAnalysis(analysis: SizeAnalysis, spread: boolean): SeriesLine {
  const { fitted, measured } = analysis;
  if (!fitted) return lineOfTable(tableOf(measured.distribution));
  const { curve } = fitted;
  return {
    um: Array.from(curve.size_um),
    below: Array.from(curve.undersize_pct),
    low: spread ? Array.from(curve.low_pct) : null,
    high: spread ? Array.from(curve.high_pct) : null,
    density: Array.from(curve.density_pct),
  };
}

export const pointsOf = ({ measured }: SizeAnalysis): Series['points'] =>
  Array.from(measured.size_um, (um, k) => ({ um, pct: measured.undersize_pct[k]! }));

/** Steps of a line that is laid out from a table: even in the logarithm, from 5 µm to 5 mm. */
const COUNT = 151;
const LOW = Math.log(5);
const HIGH = Math.log(5_000);
const STEP = (HIGH - LOW) / (COUNT - 1);
const GRID: readonly number[] = Array.from({ length: COUNT }, (_, k) => Math.exp(LOW + k * STEP));
/** Half width of the window that a density is averaged over [steps]: about a tenth of a decade in all. */
const WINDOW = 2;

/**
 * A table as a line. Each row is spread evenly in ln d over the cell half-way to its neighbours, so that classes of any spacing draw
 * alike; the density is the slope of that over a window.
 */
export function lineOfTable({ diameter, share }: SizeTable): SeriesLine {
  const logs = Array.from(diameter, (d) => Math.log(d * 1e6));
  const n = logs.length;
  const edge = (k: number): number => {
    if (n === 1) return logs[0]! + (k === 0 ? -0.05 : 0.05);
    if (k === 0) return logs[0]! - (logs[1]! - logs[0]!) / 2;
    if (k === n) return logs[n - 1]! + (logs[n - 1]! - logs[n - 2]!) / 2;
    return (logs[k - 1]! + logs[k]!) / 2;
  };
  const edges = Array.from({ length: n + 1 }, (_, k) => edge(k));
  const sums = [0];
  for (const [k, x] of share.entries()) sums.push(sums[k]! + x);
  const below = (x: number): number => {
    if (x <= edges[0]!) return 0;
    const k = edges.findIndex((at) => at >= x);
    if (k < 0) return sums[n]!;
    const part = (x - edges[k - 1]!) / (edges[k]! - edges[k - 1]!);
    return sums[k - 1]! + part * (sums[k]! - sums[k - 1]!);
  };
  const wide = WINDOW * STEP;
  return {
    um: GRID,
    below: GRID.map((um) => 100 * below(Math.log(um))),
    low: null,
    high: null,
    density: GRID.map((um) => {
      const x = Math.log(um);
      return (100 * Math.LN10 * (below(x + wide) - below(x - wide))) / (2 * wide);
    }),
  };
}

export const lineOfDistribution = (distribution: Distribution): SeriesLine =>
  lineOfTable(tableOf(distribution));

/** Lines of tables mixed by share: tables with rows of their own would draw ragged when joined row by row. */
export function mixedLine(parts: readonly { share: number; line: SeriesLine }[]): SeriesLine {
  const total = parts.reduce((sum, { share }) => sum + share, 0) || 1;
  const sum = (pick: (line: SeriesLine) => readonly number[]): number[] =>
    GRID.map((um) =>
      parts.reduce((all, { share, line }) => all + (share / total) * at(line.um, pick(line), um), 0),
    );
  return {
    um: GRID,
    below: sum((line) => line.below),
    low: null,
    high: null,
    density: sum((line) => line.density),
  };
}

/** A line's value at a size: straight in ln d between its points; its ends hold beyond it. */
export function at(um: readonly number[], values: readonly number[], size: number): number {
  if (size <= um[0]!) return values[0]!;
  const last = um.length - 1;
  if (size >= um[last]!) return values[last]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (um[middle]! <= size) low = middle;
    else high = middle;
  }
  const part = Math.log(size / um[low]!) / Math.log(um[high]! / um[low]!);
  return values[low]! + part * (values[high]! - values[low]!);
}

/** Size [µm] that a share [%] of the mass is finer than, read off a line; null when the line does not reach it. */
export function sizeAt({ um, below }: SeriesLine, pct: number): number | null {
  const k = below.findIndex((value) => value >= pct);
  if (k <= 0) return null;
  const part = (pct - below[k - 1]!) / (below[k]! - below[k - 1]!);
  return um[k - 1]! * (um[k]! / um[k - 1]!) ** part;
}

/** Where a letter stands on a line: the place of the most mass, moved on for each line before it so that letters part. */
export function letterPlace({ um, density }: SeriesLine, below: number): number {
  let best = 0;
  density.forEach((value, k) => {
    if (value > density[best]!) best = k;
  });
  return Math.max(0, Math.min(um.length - 1, best + below));
}
