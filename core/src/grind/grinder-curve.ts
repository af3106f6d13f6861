import type { Distribution } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import type { SizeTable } from './classes.ts';
import type { DialPoint } from './dial-points.ts';
import {
  condition,
  expectedShift,
  type LinearPrior,
  type Place,
  predict,
  type Scales,
} from './gaussian-process.ts';
import { distributionOfTable, LEVELS, levelsBelow, MEDIAN, tableOfLevels } from './levels.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';

/** Low, middle and high of an estimate: 5 %, 50 % and 95 %. */
export interface GrindBand {
  low: number;
  mid: number;
  high: number;
}

/** A grinder as a curve from setting to sizes, with what it was learnt from. Plain data but for the factors inside. */
export interface GrinderCurve {
  points: readonly DialPoint[];
  places: readonly Place[];
  prior: LinearPrior;
  conditioned: ReturnType<typeof condition>;
  /** Mean of ln sizes over the points at each level: what deviations count from. */
  expected: Float64Array;
  /** Measured positions, lowest and highest, from the zero point. */
  measured: { low: number; high: number };
  remarks: GrindRemark[];
}

/** Beans and burrs that are taken when nobody wrote them down. */
const USUAL = { beans_C: 20, burrs_kg: 0 };
/**
 * Colder beans break finer: ln D50 changes by 0.001 per kelvin, give or take as much. The direction is from Uman et al. 2016
 * (Sci. Rep. 6, 24483) as quoted; the size is from memory.
 */
const PER_KELVIN = 0.001;
/** Wear of burrs in ln D50 per kilogram, either way (assumed). */
const PER_KG = 0.0005;
/** How much ln D50 may change over the measured part of the dial, standard deviation (assumed; a factor of 3 is within it). */
const OVER_SPAN = 1.2;

/** ln D50 over ln position that is expected when only one setting was measured: size grows a little slower than the gap (assumed). */
const ALONE = 0.8;

const BENDS = [0.005, 0.03, 0.08, 0.2];
const REACHES = [0.3, 0.6, 1.2];
const REPEATS = [0.003, 0.01, 0.02, 0.04, 0.08];

/**
 * Learns the curve of a grinder from any number of measured settings, at least one: a Gaussian process on ln D50 over the position
 * counted from the zero point, with straight parts for bean temperature and burr wear. Its free scales are not chosen but averaged
 * over, each choice weighted by its evidence, so that few points give wide bands. All other quantiles move with the same weights.
 * @throws Error without any point.
 */
export function grinderCurve(points: readonly DialPoint[]): GrinderCurve {
  if (points.length === 0) throw new Error('grinderCurve: at least one point is needed');
  const remarks: GrindRemark[] = [];
  const blind = points.filter((point) => point.touch_dial === null).length;
  if (blind > 0 && blind < points.length)
    remarks.push(grindRemark('caution', 'one_zero_unknown', { count: blind }));
  const places = points.map(
    (point): Place => ({
      position: point.dial - (point.touch_dial ?? 0),
      beans_C: point.beans_C ?? USUAL.beans_C,
      burrs_kg: point.burrs_kg ?? USUAL.burrs_kg,
    }),
  );
  const positions = places.map((place) => place.position);
  const measured = { low: Math.min(...positions), high: Math.max(...positions) };
  const span = measured.high - measured.low || Math.max(1, Math.abs(measured.low));
  const mean = (pick: (place: Place) => number) =>
    places.reduce((sum, place) => sum + pick(place), 0) / places.length;
  const prior: LinearPrior = {
    level: 1,
    perPosition: OVER_SPAN / span,
    perPositionMean: points.length === 1 ? ALONE / span : 0,
    perKelvin: PER_KELVIN,
    perKelvinMean: PER_KELVIN,
    perKg: PER_KG,
    centre: {
      position: mean((place) => place.position),
      beans_C: USUAL.beans_C,
      burrs_kg: mean((place) => place.burrs_kg),
    },
  };
  const expected = LEVELS.map(
    (_, u) => points.reduce((sum, point) => sum + point.logSizes[u]!, 0) / points.length,
  );
  const y = points.map(
    (point, i) => point.logSizes[MEDIAN]! - expected[MEDIAN]! - expectedShift(places[i]!, prior),
  );
  const scales = BENDS.flatMap((bend) =>
    REACHES.flatMap((reach) => REPEATS.map((repeat): Scales => ({ bend, reach: reach * span, repeat }))),
  );
  const doubts = points.map((point) => point.doubt);
  const conditioned = condition(places, y, doubts, prior, scales);
  if (points.length < 3) remarks.push(grindRemark('caution', 'few_measurements', { count: points.length }));
  remarks.push(...fallingParts(points, places));
  return { points, places, prior, conditioned, expected, measured, remarks };
}

/** Neighbours on the dial that contradict a rising curve by more than their doubts. */
function fallingParts(points: readonly DialPoint[], places: readonly Place[]): GrindRemark[] {
  const order = places.map((_, i) => i).sort((a, b) => places[a]!.position - places[b]!.position);
  return order.slice(1).flatMap((b, i) => {
    const a = order[i]!;
    const rise = points[b]!.logSizes[MEDIAN]! - points[a]!.logSizes[MEDIAN]!;
    const apart = places[b]!.position > places[a]!.position;
    if (!apart || rise > -2 * Math.hypot(points[a]!.doubt, points[b]!.doubt)) return [];
    return [
      grindRemark('caution', 'curve_not_rising', {
        from: figureOf(points[a]!.dial, 4),
        to: figureOf(points[b]!.dial, 4),
      }),
    ];
  });
}

/** Where a curve is asked. Beans at 20 °C, burrs as at the mean of the measurements and a touch at 0 unless said. */
export interface AskedPlace {
  dial: number;
  touch_dial?: number | null;
  beans_C?: number | null;
  burrs_kg?: number | null;
}

export const placeOf = (curve: GrinderCurve, { dial, touch_dial, beans_C, burrs_kg }: AskedPlace): Place => ({
  position: dial - (touch_dial ?? lastTouch(curve)),
  beans_C: beans_C ?? USUAL.beans_C,
  burrs_kg: burrs_kg ?? curve.prior.centre.burrs_kg,
});

/** Zero point of the last measurement that has one. */
export const lastTouch = (curve: GrinderCurve): number =>
  curve.points.findLast((point) => point.touch_dial !== null)?.touch_dial ?? 0;

/** What a curve says of one setting. */
export interface CurveEstimate {
  dial: number;
  d50_um: GrindBand;
  /** The same for a single grind, which strays from the curve. */
  next_d50_um: GrindBand;
  /** Standard uncertainty of ln D50, of the curve and of a single grind. */
  doubt: number;
  next_doubt: number;
  /** The sizes expected. */
  table: SizeTable;
  distribution: Distribution;
  fines_pct: number;
  /** Outside the measured part of the dial. */
  beyond: boolean;
}

/** Sizes at a setting with their uncertainty. */
export function curveAt(
  curve: GrinderCurve,
  asked: AskedPlace,
  finesLimit = 100 * MICROMETRE,
): CurveEstimate {
  const place = placeOf(curve, asked);
  const { points, places, prior, conditioned, expected } = curve;
  const own = expectedShift(place, prior);
  const logSizes = expected.map((x) => x + own);
  let first = 0;
  let second = 0;
  let repeat = 0;
  for (const one of conditioned) {
    const { weights, spread } = predict(one, places, [place], prior);
    let median = 0;
    LEVELS.forEach((_, u) => {
      let shift = 0;
      points.forEach((point, i) => {
        shift += weights.get(i, 0) * (point.logSizes[u]! - expected[u]! - expectedShift(places[i]!, prior));
      });
      logSizes[u] = logSizes[u]! + one.weight * shift;
      if (u === MEDIAN) median = shift;
    });
    first += one.weight * median;
    second += one.weight * (Math.max(0, spread.get(0, 0)) + median * median);
    repeat += one.weight * one.scales.repeat ** 2;
  }
  const variance = Math.max(0, second - first * first);
  const middle = expected[MEDIAN]! + own + first;
  const band = (sd: number): GrindBand => ({
    low: Math.exp(middle - 1.645 * sd) / MICROMETRE,
    mid: Math.exp(middle) / MICROMETRE,
    high: Math.exp(middle + 1.645 * sd) / MICROMETRE,
  });
  const table = tableOfLevels(logSizes);
  return {
    dial: asked.dial,
    d50_um: band(Math.sqrt(variance)),
    next_d50_um: band(Math.sqrt(variance + repeat)),
    doubt: Math.sqrt(variance),
    next_doubt: Math.sqrt(variance + repeat),
    table,
    distribution: distributionOfTable(table),
    fines_pct: levelsBelow(logSizes, finesLimit),
    beyond: place.position < curve.measured.low - 1e-9 || place.position > curve.measured.high + 1e-9,
  };
}

/** The curve on evenly spaced settings, for drawing. */
export const curveLine = (
  curve: GrinderCurve,
  low: number,
  high: number,
  count: number,
  asked: Omit<AskedPlace, 'dial'> = {},
): CurveEstimate[] =>
  Array.from({ length: count }, (_, k) =>
    curveAt(curve, { ...asked, dial: low + ((high - low) * k) / Math.max(1, count - 1) }),
  );
