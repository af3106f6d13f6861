import type { Distribution, Grinder, Sizing } from '../documents/index.ts';
import type { SizeAnalysis } from './analyse.ts';
import { tableOf } from './classes.ts';
import { logSizesOf, logSizesOfTable } from './levels.ts';

/** One measured setting. */
export interface DialPoint {
  name: string;
  /** What the dial showed. */
  dial: number;
  /** Dial reading at which the burrs touched; null when nobody looked. */
  touch_dial: number | null;
  beans_C: number | null;
  burrs_kg: number | null;
  /** ln of the diameters [m] at the levels of `levels.ts`. */
  logSizes: Float64Array;
  /** Standard uncertainty of ln D50. */
  doubt: number;
}

/** Dial reading at which a grinder's burrs touched at a moment (ISO 8601), by its record; null before the first entry. */
export function touchAt(grinder: Pick<Grinder, 'zeros'>, moment: string | null): number | null {
  const at = moment === null ? Number.POSITIVE_INFINITY : Date.parse(moment);
  const before = grinder.zeros
    .filter((zero) => Date.parse(zero.at) <= at)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return before.at(-1)?.touch_dial ?? null;
}

/** Least doubt of a measured ln D50: sampling the heap, which no instrument sees (assumed). */
const SAMPLING = 0.01;

/**
 * The point of a curve that a measurement gives: by its fitted model, else by the classes as measured. Null when the document does
 * not say what the dial showed.
 */
export function dialPointOf(
  sizing: Sizing,
  analysis: SizeAnalysis,
  grinder: Pick<Grinder, 'zeros'> | null,
): DialPoint | null {
  if (sizing.dial === null) return null;
  const { fitted, measured } = analysis;
  const band = fitted?.bands.d50_um ?? measured.bands.d50_um;
  return {
    name: sizing.name,
    dial: sizing.dial,
    touch_dial: sizing.touch_dial ?? (grinder ? touchAt(grinder, sizing.measured_at) : null),
    beans_C: sizing.beans_C,
    burrs_kg: sizing.burrs_kg,
    logSizes: fitted ? logSizesOf(fitted.model) : logSizesOfTable(tableOf(measured.distribution)),
    doubt: Math.hypot(SAMPLING, band ? Math.log(band.high / band.low) / (2 * 1.645) : 0.1),
  };
}

/** A point for a setting whose distribution was written down, not measured here: as uncertain as is said. */
export function dialPointOfDistribution(
  name: string,
  dial: number,
  distribution: Distribution,
  doubt = 0.05,
): DialPoint {
  return {
    name,
    dial,
    touch_dial: null,
    beans_C: null,
    burrs_kg: null,
    logSizes: logSizesOfTable(tableOf(distribution)),
    doubt,
  };
}
