import { MICROMETRE } from '../units/index.ts';
import { randomOf } from './bootstrap.ts';
import type { SizeTable } from './classes.ts';
import { type CurveGrid, crossing, drawCurves, expectedMedians, layGrid, settingBand } from './curve-grid.ts';
import { tableFigures } from './figures.ts';
import {
  type AskedPlace,
  type CurveEstimate,
  curveAt,
  type GrindBand,
  type GrinderCurve,
  lastTouch,
} from './grinder-curve.ts';
import { logSizesOfTable, MEDIAN, tableOfLevels } from './levels.ts';
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
  const grid = layGrid(curve, dials, options);
  const level =
    target.by === 'd50' ? Math.log(target.d50_um * MICROMETRE) : equivalentMedian(grid, target.table);
  const random = randomOf(seed + 1);
  const doubt = options.target_doubt ?? 0;
  const curves = drawCurves(grid, draws, seed);
  const { band, on_scale } = settingBand(dials, curves, () => level + doubt * random.normal());
  const means = expectedMedians(grid);
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

/**
 * ln of the median of the setting whose distribution lies nearest to a table, between settings by a parabola; beyond the ends of the
 * grid the table's own.
 */
function equivalentMedian(grid: CurveGrid, table: SizeTable): number {
  const wanted = logSizesOfTable(table);
  // Quantiles by mass, each as heavy as the mass it stands for.
  const { share } = tableOfLevels(wanted);
  const off = grid.logSizes.map((sizes) =>
    sizes.reduce((sum, x, u) => sum + share[u]! * (x - wanted[u]!) ** 2, 0),
  );
  const best = off.reduce((found, x, k) => (x < off[found]! ? k : found), 0);
  const [before, at, after] = [off[best - 1], off[best]!, off[best + 1]];
  if (before === undefined || after === undefined) return wanted[MEDIAN]!;
  const bend = before - 2 * at + after;
  const shift = bend > 0 ? (0.5 * (before - after)) / bend : 0;
  const [a, b] = [best, best + Math.sign(shift)].map((k) => grid.logSizes[k]![MEDIAN]!);
  return a! + Math.abs(shift) * (b! - a!);
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
  const curves = drawCurves(layGrid(curve, dials, options), draws, seed);
  const { band, on_scale } = settingBand(dials, curves, () => level + check.doubt * random.normal());
  return {
    low: check.dial - band.high,
    mid: check.dial - band.mid,
    high: check.dial - band.low,
    on_scale,
  };
}
