import { PUBLISHED_BRIX } from './refractometer.ts';
import { type CupRemark, cupRemark, toDecimals } from './sentences.ts';
import type { Measured } from './uncertainty.ts';

/** A sample of which both are known. */
export interface BrixPair {
  brix: number;
  /** By oven drying, or by an instrument that is trusted. */
  strength_pct: number;
  /** Standard uncertainty of that strength. */
  strength_doubt_pct: number;
}

/** A person's own line from °Brix to strength [%]: strength = slope·brix + offset. Plain JSON. */
export interface BrixFit {
  slope: number;
  offset_pct: number;
  /** Covariance of slope and offset, `[slope, slope·offset, offset]`. */
  covariance: readonly [number, number, number];
  /** How far one sample strays from the line, standard deviation [%]. */
  scatter_pct: number;
  pairs: number;
  /** °Brix between which pairs were measured; null without one. */
  range: readonly [low: number, high: number] | null;
  remarks: readonly CupRemark[];
}

/**
 * What is known before any pair: the published slopes as one normal distribution about the middle of their range, which they cover
 * at about ± 1.2 deviations, and a small offset. Strength in %.
 */
const PRIOR = {
  slope: (PUBLISHED_BRIX.low + PUBLISHED_BRIX.high) / 2,
  slopeDoubt: 0.035,
  offset: 0,
  offsetDoubt: 0.03,
};
/** Scatter of one sample about the line when too few pairs show it [%]: °Brix read to 0.01–0.02, both ways. */
const USUAL_SCATTER = 0.02;
/** How many pairs that usual scatter counts for. */
const SCATTER_WEIGHT = 3;

/**
 * Fits a person's own calibration: Bayesian regression with the published slopes as prior, so that none, one or many pairs all give a line with
 * an honest width. Each pair counts by its own doubt and the scatter about the line; the scatter is the usual one mixed with what the
 * pairs show, and found in a few rounds.
 */
export function fitBrix(pairs: readonly BrixPair[]): BrixFit {
  const { line, scatter } = settle(pairs);
  const brix = pairs.map((pair) => pair.brix);
  const range = pairs.length > 0 ? ([Math.min(...brix), Math.max(...brix)] as const) : null;
  return { ...line, scatter_pct: scatter, pairs: pairs.length, range, remarks: remarksOf(line, pairs) };
}

function settle(pairs: readonly BrixPair[]): { line: Line; scatter: number } {
  let scatter = USUAL_SCATTER;
  let line = solve(pairs, scatter);
  for (let round = 0; round < 20 && pairs.length > 0; round++) {
    // What the line leaves, less what the references themselves may be off.
    const left = pairs.reduce(
      (sum, p) => sum + Math.max(0, residual(line, p) ** 2 - p.strength_doubt_pct ** 2),
      0,
    );
    const next = Math.sqrt(
      (SCATTER_WEIGHT * USUAL_SCATTER ** 2 + left) / (SCATTER_WEIGHT + Math.max(0, pairs.length - 1)),
    );
    const settled = Math.abs(next - scatter) < 1e-6;
    scatter = next;
    line = solve(pairs, scatter);
    if (settled) break;
  }
  return { line, scatter };
}

type Line = Pick<BrixFit, 'slope' | 'offset_pct' | 'covariance'>;

const residual = (line: Line, pair: BrixPair): number =>
  pair.strength_pct - line.slope * pair.brix - line.offset_pct;

/** Posterior mean and covariance of slope and offset for a known scatter: the normal equations with the prior added. */
function solve(pairs: readonly BrixPair[], scatter: number): Line {
  let a = 1 / PRIOR.slopeDoubt ** 2;
  let b = 0;
  let c = 1 / PRIOR.offsetDoubt ** 2;
  let u = a * PRIOR.slope;
  let v = c * PRIOR.offset;
  for (const { brix, strength_pct, strength_doubt_pct } of pairs) {
    const weight = 1 / (scatter ** 2 + strength_doubt_pct ** 2);
    a += weight * brix * brix;
    b += weight * brix;
    c += weight;
    u += weight * brix * strength_pct;
    v += weight * strength_pct;
  }
  const det = a * c - b * b;
  return {
    slope: (c * u - b * v) / det,
    offset_pct: (a * v - b * u) / det,
    covariance: [c / det, -b / det, a / det],
  };
}

/** Pairs from which one can be told that does not belong. */
const LEAST_TO_JUDGE = 4;

function remarksOf(line: Line, pairs: readonly BrixPair[]): CupRemark[] {
  const { low, high } = PUBLISHED_BRIX;
  const remarks: CupRemark[] = [];
  if (pairs.length === 0) {
    const spread = toDecimals((50 * (high - low)) / PRIOR.slope, 0);
    return [cupRemark('caution', 'brix_default', { spread })];
  }
  if (pairs.length < 3) remarks.push(cupRemark('note', 'brix_few', { count: pairs.length }));
  pairs.forEach((pair, i) => {
    if (pairs.length < LEAST_TO_JUDGE) return;
    // By the line of the others: an odd pair bends its own.
    const others = settle(pairs.filter((_, k) => k !== i));
    const { uncertainty } = strengthByLine(others.line, others.scatter, pair.brix);
    const apart = Math.abs(residual(others.line, pair)) / Math.hypot(uncertainty, pair.strength_doubt_pct);
    if (apart > 3)
      remarks.push(
        cupRemark('caution', 'brix_odd', {
          row: i + 1,
          brix: pair.brix,
          strength: pair.strength_pct,
          apart: toDecimals(apart, 1),
        }),
      );
  });
  if (line.slope < low - 0.1 || line.slope > high + 0.1)
    remarks.push(cupRemark('caution', 'brix_slope_odd', { slope: toDecimals(line.slope, 3), low, high }));
  return remarks;
}

/** Strength [%] of a reading in °Brix by a person's own line, with the standard uncertainty of line and scatter together. */
export const strengthByFit = (fit: BrixFit, brix: number): Measured =>
  strengthByLine(fit, fit.scatter_pct, brix);

function strengthByLine({ slope, offset_pct, covariance }: Line, scatter: number, brix: number): Measured {
  const [ss, so, oo] = covariance;
  const variance = brix * brix * ss + 2 * brix * so + oo + scatter ** 2;
  return { value: slope * brix + offset_pct, uncertainty: Math.sqrt(variance) };
}

/** Says so when a reading lies outside what was calibrated, by more than a tenth of its range or 0.2 °Brix. */
export function beyondPairs(fit: BrixFit, brix: number): CupRemark[] {
  if (!fit.range || fit.pairs < 2) return [];
  const [from, to] = fit.range;
  const slack = Math.max(0.2, 0.1 * (to - from));
  if (brix >= from - slack && brix <= to + slack) return [];
  return [cupRemark('caution', 'brix_beyond', { brix, from, to })];
}
