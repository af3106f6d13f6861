import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { MICROMETRE } from '../units/index.ts';
import { randomOf, sortedQuantile } from './bootstrap.ts';
import type { SizeTable } from './classes.ts';
import { tableFigures } from './figures.ts';
import { expectedShift, predict } from './gaussian-process.ts';
import {
  type AskedPlace,
  type CurveEstimate,
  curveAt,
  type GrindBand,
  type GrinderCurve,
  lastTouch,
  placeOf,
} from './grinder-curve.ts';
import { logSizesOfTable, MEDIAN } from './levels.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';

/** What a setting is to give. */
export type GrindTarget = { by: 'd50'; d50_um: number } | { by: 'table'; table: SizeTable };

/** A setting that was asked for. */
export interface SettingAnswer {
  /** Reading of the dial; its band is how far the curve's own doubt reaches. */
  dial: GrindBand;
  /** Probability that the setting lies on the part of the dial that was searched, 0–1. */
  on_scale: number;
  /** What the curve gives there. */
  estimate: CurveEstimate;
  remarks: GrindRemark[];
}

export interface SettingOptions extends Omit<AskedPlace, 'dial'> {
  /** Part of the dial to search; half the measured span beyond either end by default. */
  low?: number;
  high?: number;
  /** Standard uncertainty of what is asked for, in ln D50; 0 by default. */
  target_doubt?: number;
  draws?: number;
  seed?: number;
}

/** Settings that a search looks at. */
const GRID = 61;
const DRAWS = 600;
const SEED = 20_260_402;

/** Part of the dial that is searched when nobody says. */
export function searchedDial(
  curve: GrinderCurve,
  { low, high, touch_dial }: SettingOptions,
): [number, number] {
  const touch = touch_dial ?? lastTouch(curve);
  const span = curve.measured.high - curve.measured.low || Math.max(1, Math.abs(curve.measured.low));
  return [low ?? curve.measured.low + touch - span / 2, high ?? curve.measured.high + touch + span / 2];
}

/**
 * Curves that the measurements allow: ln D50 on a grid of settings, `draws` times, made to rise (a finer setting cannot grind coarser).
 * @returns draws, each of the grid's length.
 */
export function drawCurves(
  curve: GrinderCurve,
  dials: readonly number[],
  asked: Omit<AskedPlace, 'dial'>,
  draws: number,
  seed: number,
): Float64Array[] {
  const random = randomOf(seed);
  const { points, places, prior, conditioned, expected } = curve;
  const at = dials.map((dial) => placeOf(curve, { ...asked, dial }));
  const out: Float64Array[] = [];
  conditioned.forEach((one, h) => {
    const before = conditioned.slice(0, h).reduce((sum, c) => sum + c.weight, 0);
    const count = Math.round(draws * (before + one.weight)) - Math.round(draws * before);
    if (count === 0) return;
    const { weights, spread } = predict(one, places, at, prior);
    for (let i = 0; i < at.length; i++) spread.set(i, i, spread.get(i, i) + 1e-9);
    const lower = new CholeskyDecomposition(spread).lowerTriangularMatrix;
    const means = at.map((place, j) =>
      points.reduce(
        (sum, point, i) =>
          sum +
          weights.get(i, j) *
            (point.logSizes[MEDIAN]! - expected[MEDIAN]! - expectedShift(places[i]!, prior)),
        expected[MEDIAN]! + expectedShift(place, prior),
      ),
    );
    for (let n = 0; n < count; n++) {
      const z = Matrix.columnVector(at.map(() => random.normal()));
      const bent = lower.mmul(z).to1DArray();
      out.push(rising(means.map((m, j) => m + bent[j]!)));
    }
  });
  return out;
}

/** The nearest curve that never falls, by least squares (pool adjacent violators). */
export function rising(values: readonly number[]): Float64Array {
  const blocks: { sum: number; count: number }[] = [];
  for (const value of values) {
    let block = { sum: value, count: 1 };
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

/**
 * The setting that gives a median size, or the one nearest to a whole distribution (least mean square of ln d over its quantiles).
 * The band is that of settings over all curves the measurements allow.
 */
export function settingFor(
  curve: GrinderCurve,
  target: GrindTarget,
  options: SettingOptions = {},
): SettingAnswer {
  const remarks: GrindRemark[] = [];
  const { draws = DRAWS, seed = SEED } = options;
  const [low, high] = searchedDial(curve, options);
  const dials = Array.from({ length: GRID }, (_, k) => low + ((high - low) * k) / (GRID - 1));
  const level =
    target.by === 'd50'
      ? Math.log(target.d50_um * MICROMETRE)
      : equivalentMedian(curve, dials, target.table, options);
  const curves = drawCurves(curve, dials, options, draws, seed);
  const random = randomOf(seed + 1);
  const doubt = options.target_doubt ?? 0;
  const { band, on_scale } = settingBand(dials, curves, () => level + doubt * random.normal());
  const means = rising(
    dials.map((dial) => Math.log(curveAt(curve, { ...options, dial }).d50_um.mid * MICROMETRE)),
  );
  const mid = crossing(dials, means, level);
  const nearest = level < means[0]! ? low : high;
  const dial = mid ?? nearest;
  if (mid === null)
    remarks.push(
      grindRemark('problem', 'target_off_curve', {
        low: figureOf(low, 4),
        high: figureOf(high, 4),
        dial: figureOf(nearest, 4),
      }),
    );
  const estimate = curveAt(curve, { ...options, dial });
  if (estimate.beyond && mid !== null) remarks.push(beyondRemark(curve, dial, options));
  if (target.by === 'table') sayShape(estimate.table, target.table, remarks);
  return {
    dial: { low: Math.min(dial, band.low), mid: dial, high: Math.max(dial, band.high) },
    on_scale,
    estimate,
    remarks,
  };
}

const beyondRemark = (curve: GrinderCurve, dial: number, { touch_dial }: SettingOptions): GrindRemark => {
  const touch = touch_dial ?? lastTouch(curve);
  return grindRemark('caution', 'beyond_measured', {
    dial: figureOf(dial, 3),
    low: figureOf(curve.measured.low + touch, 3),
    high: figureOf(curve.measured.high + touch, 3),
  });
};

/** ln of the median of the setting whose distribution lies nearest to a table. */
function equivalentMedian(
  curve: GrinderCurve,
  dials: readonly number[],
  table: SizeTable,
  options: SettingOptions,
): number {
  const wanted = logSizesOfTable(table);
  // Quantiles by mass, each as heavy as the mass it stands for.
  const best = dials.reduce(
    (found, dial) => {
      const estimate = curveAt(curve, { ...options, dial });
      const off = estimate.table.diameter.reduce(
        (sum, d, u) => sum + estimate.table.share[u]! * (Math.log(d) - wanted[u]!) ** 2,
        0,
      );
      return off < found.off ? { off, median: Math.log(estimate.d50_um.mid * MICROMETRE) } : found;
    },
    { off: Number.POSITIVE_INFINITY, median: 0 },
  );
  return best.median;
}

/** Span that is as good as the same. */
const SAME_SPAN = 0.1;

function sayShape(given: SizeTable, wanted: SizeTable, remarks: GrindRemark[]): void {
  const [a, b] = [tableFigures(given, 0).span!, tableFigures(wanted, 0).span!];
  if (Math.abs(a - b) > SAME_SPAN * b)
    remarks.push(grindRemark('note', 'shape_differs', { span: figureOf(a), target: figureOf(b) }));
}

/**
 * How far the zero point has moved, in marks of the dial, from one measurement made after cleaning: the reading less the setting that
 * gave that size before. The band holds the doubt of both.
 */
export function zeroShift(
  curve: GrinderCurve,
  check: { dial: number; d50_um: number; doubt: number },
  options: SettingOptions = {},
): GrindBand & { on_scale: number } {
  const { draws = DRAWS, seed = SEED } = options;
  const [low, high] = searchedDial(curve, options);
  const dials = Array.from({ length: GRID }, (_, k) => low + ((high - low) * k) / (GRID - 1));
  const random = randomOf(seed + 1);
  const level = Math.log(check.d50_um * MICROMETRE);
  const curves = drawCurves(curve, dials, options, draws, seed);
  const { band, on_scale } = settingBand(dials, curves, () => level + check.doubt * random.normal());
  return {
    low: check.dial - band.high,
    mid: check.dial - band.mid,
    high: check.dial - band.low,
    on_scale,
  };
}
