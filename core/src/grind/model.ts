import type { Distribution } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import { gamma, normalCdf, normalDensity, normalQuantile } from './special.ts';

/** A log-normal mode by mass: its share, median [m] and geometric standard deviation. */
export interface LogNormalMode {
  share: number;
  median: number;
  gsd: number;
}

/**
 * A distribution of sizes by mass as a formula: a sum of log-normal modes, or Weibull's (Rosin and Rammler's), of which
 * exp(−(d/scale)^shape) is coarser than d; scale [m] is the size that 36.8 % is coarser than.
 */
export type SizeModel =
  | { family: 'log_normal'; modes: readonly LogNormalMode[] }
  | { family: 'weibull'; scale: number; shape: number };

/** Share of the mass below a diameter [m]. */
export function undersize(model: SizeModel, diameter: number): number {
  if (!(diameter > 0)) return 0;
  if (model.family === 'weibull') return -Math.expm1(-((diameter / model.scale) ** model.shape));
  return model.modes.reduce(
    (sum, { share, median, gsd }) =>
      sum + share * normalCdf((Math.log(diameter) - Math.log(median)) / Math.log(gsd)),
    0,
  );
}

/** Mass share per unit of ln d at a diameter [m]. */
export function logDensity(model: SizeModel, diameter: number): number {
  if (!(diameter > 0)) return 0;
  if (model.family === 'weibull') {
    const t = (diameter / model.scale) ** model.shape;
    return model.shape * t * Math.exp(-t);
  }
  return model.modes.reduce((sum, { share, median, gsd }) => {
    const s = Math.log(gsd);
    return sum + (share / s) * normalDensity((Math.log(diameter) - Math.log(median)) / s);
  }, 0);
}

/** Diameter [m] that a share `at` (0–1, ends excluded) of the mass is smaller than; to rounding. */
export function sizeQuantile(model: SizeModel, at: number): number {
  if (model.family === 'weibull') return model.scale * (-Math.log1p(-at)) ** (1 / model.shape);
  const z = normalQuantile(at);
  const places = model.modes
    .filter((mode) => mode.share > 0)
    .map(({ median, gsd }) => Math.log(median) + z * Math.log(gsd));
  // Every mode's own quantile brackets that of the sum; halving the logarithm then loses nothing to tails.
  let low = Math.min(...places);
  let high = Math.max(...places);
  for (let i = 0; i < 100 && high - low > 1e-15 * Math.abs(high); i++) {
    const middle = 0.5 * (low + high);
    if (undersize(model, Math.exp(middle)) < at) low = middle;
    else high = middle;
  }
  return Math.exp(0.5 * (low + high));
}

/**
 * Mean of d^power by mass [m^power]: Σ share·median^k·exp(k²s²/2) for log-normal modes (Hatch and Choate 1929, from memory),
 * scale^k Γ(1 + k/shape) for Weibull's; Infinity where that has none.
 */
export function sizeMoment(model: SizeModel, power: number): number {
  if (model.family === 'weibull') {
    const argument = 1 + power / model.shape;
    return argument > 0 ? model.scale ** power * gamma(argument) : Number.POSITIVE_INFINITY;
  }
  return model.modes.reduce((sum, { share, median, gsd }) => {
    const s = Math.log(gsd);
    return sum + share * median ** power * Math.exp((power * power * s * s) / 2);
  }, 0);
}

/**
 * Mean diameter D[p,q] = (Σ n d^p / Σ n d^q)^(1/(p−q)) [m] of a distribution by mass (notation of ISO 9276-2, from memory).
 * D[4,3] is the mean by mass, D[3,2] that of the surface, D[1,0] the mean by number: not to be taken for the percentile D10.
 * Zero where an infinity of dust would carry it.
 */
export const meanDiameter = (model: SizeModel, p: number, q: number): number =>
  (sizeMoment(model, p - 3) / sizeMoment(model, q - 3)) ** (1 / (p - q));

/** The same grains counted by number: exact for log-normal modes (median·exp(−3s²)); null for Weibull's, which has no such form. */
export function byNumber(model: SizeModel): SizeModel | null {
  if (model.family === 'weibull') return null;
  const counted = model.modes.map(({ share, median, gsd }) => {
    const s2 = Math.log(gsd) ** 2;
    return { share: share * median ** -3 * Math.exp(4.5 * s2), median: median * Math.exp(-3 * s2), gsd };
  });
  const total = counted.reduce((sum, mode) => sum + mode.share, 0);
  return {
    family: 'log_normal',
    modes: counted.map((mode) => ({ ...mode, share: mode.share / total })),
  };
}

/** Rows that a Weibull distribution is written out in. */
const ROWS = 120;

/**
 * A model as a setting of a grinder keeps it, rounded to what a document shows: modes as modes, Weibull's as classes of even
 * steps of ln d between its 0.1 % and 99.9 % sizes, each with the exact mass in it.
 */
export function distributionOf(model: SizeModel): Distribution {
  if (model.family === 'log_normal')
    return {
      by: 'modes',
      modes: withSharesOfOne(
        model.modes.map(({ share, median, gsd }) => ({
          share,
          median_um: clamp(significant(median / MICROMETRE, 5), 1, 5_000),
          gsd: clamp(significant(gsd, 5), 1.01, 4),
        })),
      ),
    };
  const low = Math.log(Math.max(sizeQuantile(model, 1e-3), MICROMETRE));
  const high = Math.log(Math.min(sizeQuantile(model, 1 - 1e-3), 5_000 * MICROMETRE));
  const edge = (k: number) => Math.exp(low + ((high - low) * k) / ROWS);
  const rows = Array.from({ length: ROWS }, (_, k) => ({
    diameter_um: significant(Math.sqrt(edge(k) * edge(k + 1)) / MICROMETRE, 6),
    share: undersize(model, edge(k + 1)) - undersize(model, edge(k)),
  }));
  return { by: 'classes', classes: withSharesOfOne(rows) };
}

/** Rounds shares to 10⁻⁶ and gives the rest to the largest, so that they make 1. */
export function withSharesOfOne<T extends { share: number }>(rows: readonly T[]): T[] {
  const total = rows.reduce((sum, row) => sum + row.share, 0);
  const rounded = rows.map((row) => ({ ...row, share: Math.round((1e6 * row.share) / total) / 1e6 }));
  const rest = 1 - rounded.reduce((sum, row) => sum + row.share, 0);
  const largest = rounded.reduce((best, row, k) => (row.share > rounded[best]!.share ? k : best), 0);
  rounded[largest]!.share = Math.round(1e6 * (rounded[largest]!.share + rest)) / 1e6;
  return rounded;
}

const significant = (x: number, digits: number): number => Number(x.toPrecision(digits));
const clamp = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));
