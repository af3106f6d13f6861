/** How degrees Brix turn into strength: a slope [% by mass per °Brix] and how far it can be trusted. */
export interface BrixCalibration {
  slope: number;
  /** Standard uncertainty of the slope within the calibration. */
  uncertainty: number;
  /** Lowest and highest slope that other calibrations of filter coffee give. */
  low: number;
  high: number;
}

/**
 * Slope 0.8491 ± 0.0043 of a regression by Gómez, as quoted in trade writing on the subject. Other published slopes: 0.825
 * (8.25 g/L per °Brix, second hand), one laboratory's 0.832 for strong and 0.902 for weak brews, 0.907 over all.
 */
export const PUBLISHED_BRIX: BrixCalibration = {
  slope: 0.8491,
  uncertainty: 0.0043,
  low: 0.825,
  high: 0.907,
};

/** A strength read from a refractometer, all as mass fractions. */
export interface StrengthFromBrix {
  strength: number;
  /** Standard uncertainty from the calibration alone, not from the reading. */
  uncertainty: number;
  /** What the lowest and highest published slope would make of the same reading. */
  low: number;
  high: number;
}

/**
 * Strength [mass fraction] from a reading in °Brix at 20 °C. The published slopes disagree by ±5 %, far more than any of
 * them admits: calibrate against oven drying when the absolute value matters.
 */
export function strengthFromBrix(brix: number, calibration = PUBLISHED_BRIX): StrengthFromBrix {
  const reading = brix / 100;
  return {
    strength: reading * calibration.slope,
    uncertainty: Math.abs(reading) * calibration.uncertainty,
    low: reading * calibration.low,
    high: reading * calibration.high,
  };
}
