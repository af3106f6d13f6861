import { CholeskyDecomposition } from 'ml-matrix';
import { randomOf, sortedQuantile } from './bootstrap.ts';
import { expectedShift, predict } from './gaussian-process.ts';
import { type AskedPlace, type GrindBand, type GrinderCurve, placeOf } from './grinder-curve.ts';
import { LEVELS, MEDIAN } from './levels.ts';

/** A curve laid out on settings, with all that is needed to draw others like it. */
export interface CurveGrid {
  dials: readonly number[];
  /** Expected ln sizes at the levels for every setting. */
  logSizes: readonly Float64Array[];
  /** One entry for every choice of scales that counts. */
  parts: readonly {
    weight: number;
    /** ln D50 for every setting. */
    means: Float64Array;
    /** Cholesky factor of its covariance, row-major [setting][setting]. */
    lower: Float64Array;
  }[];
}

/** Keeps a covariance positive definite where the curve is as good as known [ln D squared]. */
const JITTER = 1e-9;

/** Lays a curve out on settings. */
export function layGrid(
  curve: GrinderCurve,
  dials: readonly number[],
  asked: Omit<AskedPlace, 'dial'>,
): CurveGrid {
  const { points, places, prior, conditioned, expected } = curve;
  const at = dials.map((dial) => placeOf(curve, { ...asked, dial }));
  const n = at.length;
  const off = points.map((point, i) =>
    point.logSizes.map((x, u) => x - expected[u]! - expectedShift(places[i]!, prior)),
  );
  const logSizes = at.map((place) => expected.map((x) => x + expectedShift(place, prior)));
  const parts = conditioned.map((one) => {
    const { weights, spread } = predict(one, places, at, prior);
    const means = Float64Array.from(at, (place) => expected[MEDIAN]! + expectedShift(place, prior));
    for (let j = 0; j < n; j++)
      off.forEach((deviation, i) => {
        const weight = weights.get(i, j);
        means[j] = means[j]! + weight * deviation[MEDIAN]!;
        for (let u = 0; u < LEVELS.length; u++)
          logSizes[j]![u] = logSizes[j]![u]! + one.weight * weight * deviation[u]!;
      });
    for (let j = 0; j < n; j++) spread.set(j, j, spread.get(j, j) + JITTER);
    const lower = Float64Array.from(new CholeskyDecomposition(spread).lowerTriangularMatrix.to1DArray());
    return { weight: one.weight, means, lower };
  });
  return { dials, logSizes, parts };
}

/** The expected ln D50 on the settings of a grid, made to rise. */
export const expectedMedians = (grid: CurveGrid): Float64Array =>
  rising(grid.logSizes.map((sizes) => sizes[MEDIAN]!));

/**
 * Curves that the measurements allow: ln D50 on the settings, about `draws` times in all, made to rise (a coarser setting cannot grind
 * finer). Each choice of scales gives as many as its weight.
 */
export function drawCurves(grid: CurveGrid, draws: number, seed: number): Float64Array[] {
  const random = randomOf(seed);
  const n = grid.dials.length;
  const z = new Float64Array(n);
  const bent = new Float64Array(n);
  const out: Float64Array[] = [];
  let before = 0;
  for (const { weight, means, lower } of grid.parts) {
    const count = Math.round(draws * (before + weight)) - Math.round(draws * before);
    before += weight;
    for (let k = 0; k < count; k++) {
      for (let i = 0; i < n; i++) z[i] = random.normal();
      for (let i = 0; i < n; i++) {
        let sum = means[i]!;
        for (let j = 0; j <= i; j++) sum += lower[i * n + j]! * z[j]!;
        bent[i] = sum;
      }
      out.push(rising(bent));
    }
  }
  return out;
}

/** The nearest curve that never falls, by least squares (pool adjacent violators). */
export function rising(values: ArrayLike<number>): Float64Array {
  const blocks: { sum: number; count: number }[] = [];
  for (let i = 0; i < values.length; i++) {
    let block = { sum: values[i]!, count: 1 };
    for (
      let last = blocks.at(-1);
      last && last.sum / last.count > block.sum / block.count;
      last = blocks.at(-1)
    ) {
      blocks.pop();
      block = { sum: block.sum + last.sum, count: block.count + last.count };
    }
    blocks.push(block);
  }
  const out = new Float64Array(values.length);
  let k = 0;
  for (const { sum, count } of blocks) for (let i = 0; i < count; i++) out[k++] = sum / count;
  return out;
}

/** Where a rising curve reaches a level, by straight lines between settings; null when it does not. */
export function crossing(dials: readonly number[], values: ArrayLike<number>, level: number): number | null {
  for (let k = 1; k < dials.length; k++) {
    const [a, b] = [values[k - 1]!, values[k]!];
    if (!(a <= level && level <= b)) continue;
    return b > a ? dials[k - 1]! + ((level - a) / (b - a)) * (dials[k]! - dials[k - 1]!) : dials[k]!;
  }
  return null;
}

/**
 * Quantiles of settings, those beyond the searched part of the dial counted at its ends, and the share that lies within it.
 * @param curves Rising values on `dials`; `level` gives what each has to reach.
 */
export function settingBand(
  dials: readonly number[],
  curves: readonly Float64Array[],
  level: () => number,
): { band: GrindBand; on_scale: number } {
  const [low, high] = [dials[0]!, dials[dials.length - 1]!];
  let on = 0;
  const found = Float64Array.from(curves, (values) => {
    const wanted = level();
    const dial = crossing(dials, values, wanted);
    if (dial !== null) on++;
    return dial ?? (wanted < values[0]! ? low : high);
  }).sort();
  const at = (share: number) => sortedQuantile(found, share);
  return { band: { low: at(0.05), mid: at(0.5), high: at(0.95) }, on_scale: on / Math.max(1, curves.length) };
}
