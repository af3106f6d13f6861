import { CONDUCTIVITY_DOUBT, conductivity, MICROSIEMENS_PER_CM } from './conductivity.ts';
import { type Speciation, speciate } from './speciate.ts';

/**
 * What a pocket meter shows. `uS_cm` is conductivity itself; `factor` shows µS/cm times a fixed factor, usually 0.5 or 0.7;
 * `NaCl`, `KCl` and `442` show the ppm of a standard solution of the same conductivity ("442": 40 % sodium sulfate, 40 %
 * sodium bicarbonate, 20 % sodium chloride).
 */
export type MeterScale =
  | { by: 'uS_cm' }
  | { by: 'factor'; factor: number }
  | { by: 'NaCl' }
  | { by: 'KCl' }
  | { by: '442' };

/** How a meter brings a reading to 25 °C: not at all, by a fixed share per kelvin [1/K], or by the curve of ISO 7888. */
export type MeterCompensation = { by: 'none' } | { by: 'linear'; per_K: number } | { by: 'iso7888' };

export interface Meter {
  scale: MeterScale;
  compensation: MeterCompensation;
  /** What its maker states as ± of the reading [%]. */
  accuracy_pct: number;
  /** Smallest step of its display, in its own unit. */
  step: number;
}

/** A meter as most are: µS/cm × 0.5, 2 % per kelvin, ± 2 % (common practice). */
export const USUAL_METER: Meter = {
  scale: { by: 'factor', factor: 0.5 },
  compensation: { by: 'linear', per_K: 0.02 },
  accuracy_pct: 2,
  step: 1,
};

/** Conductivity at 25 °C [µS/cm] and what each scale makes of it [ppm]: table of a conductivity meter's manual. */
const SCALE_TABLE = {
  uS_cm: [23, 84, 447, 1413],
  KCl: [11.6, 40.38, 225.6, 744.7],
  NaCl: [10.7, 38.04, 215.5, 702.1],
  '442': [14.74, 50.5, 300, 1000],
} as const;

/**
 * What a scale shows for a conductivity at 25 °C [µS/cm]. The three solution scales are read off a printed table of four rows
 * by their factor, straight in the logarithm of the conductivity between rows and constant beyond them.
 */
export function onScale(conductivity25_uS_cm: number, scale: MeterScale): number {
  if (scale.by === 'uS_cm') return conductivity25_uS_cm;
  if (scale.by === 'factor') return conductivity25_uS_cm * scale.factor;
  return conductivity25_uS_cm * factorAt(conductivity25_uS_cm, scale.by);
}

/** Conductivity at 25 °C [µS/cm] that a scale shows as `reading`: the inverse of {@link onScale}. */
export function offScale(reading: number, scale: MeterScale): number {
  if (scale.by === 'uS_cm') return reading;
  if (scale.by === 'factor') return reading / scale.factor;
  let low = 0;
  let high = reading * 4 + 1;
  for (let i = 0; i < 100 && high - low > 1e-12 * high; i++) {
    const middle = (low + high) / 2;
    if (onScale(middle, scale) < reading) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function factorAt(kappa: number, by: 'NaCl' | 'KCl' | '442'): number {
  const x = SCALE_TABLE.uS_cm;
  const f = SCALE_TABLE[by].map((ppm, i) => ppm / x[i]!);
  if (!(kappa > x[0])) return f[0]!;
  for (let i = 1; i < x.length; i++)
    if (kappa <= x[i]!) {
      const share = Math.log(kappa / x[i - 1]!) / Math.log(x[i]! / x[i - 1]!);
      return f[i - 1]! + share * (f[i]! - f[i - 1]!);
    }
  return f.at(-1)!;
}

/** Temperature [°C] and f25 of ISO 7888 / EN 27888, table for natural waters (as an instrument manual prints it). */
const F25: readonly (readonly [celsius: number, factor: number])[] = [
  [0, 1.918],
  [5, 1.643],
  [10, 1.428],
  [15, 1.256],
  [18, 1.168],
  [20, 1.116],
  [22, 1.067],
  [25, 1],
  [28, 0.94],
  [30, 0.903],
  [35, 0.822],
  [36, 0.808],
];

/** Hottest sample that a temperature-compensated meter may be used in [°C]: ISO 7888 is defined for 0–36 °C. */
export const HOTTEST_SAMPLE_C = 36;

/**
 * Factor that brings the conductivity of a natural water at t [°C] to 25 °C, ISO 7888, linear between the rows of its table.
 * NaN outside 0–36 °C, where the standard is not defined: hot water has to be cooled first. The row at 36 °C is extrapolated.
 */
export function iso7888(t: number): number {
  if (!(t >= 0 && t <= HOTTEST_SAMPLE_C)) return Number.NaN;
  for (let i = 1; i < F25.length; i++) {
    const [t0, f0] = F25[i - 1]!;
    const [t1, f1] = F25[i]!;
    if (t <= t1) return f0 + ((t - t0) / (t1 - t0)) * (f1 - f0);
  }
  return Number.NaN;
}

/** What a meter makes of a conductivity κ at t [°C]: its value at 25 °C by its own compensation. NaN when too hot for it. */
export function compensated(kappa: number, t: number, by: MeterCompensation): number {
  if (by.by === 'none') return kappa;
  if (t > HOTTEST_SAMPLE_C) return Number.NaN;
  return by.by === 'linear' ? kappa / (1 + by.per_K * (t - 25)) : kappa * iso7888(t);
}

/** A value with what it may lie within (about 95 %: two standard uncertainties each way). */
export interface Spread {
  value: number;
  low: number;
  high: number;
}

/** Value ± twice a standard uncertainty. */
export const spreadOf = (value: number, uncertainty: number): Spread => ({
  value,
  low: value - 2 * uncertainty,
  high: value + 2 * uncertainty,
});

/** What a meter will say of a water, and from where on something is wrong. */
export interface ExpectedReading {
  /** Unit of the display. */
  unit: 'µS/cm' | 'ppm';
  /** Expected display; null when the sample is too hot for the meter's compensation. */
  reading: Spread | null;
  /** Readings outside this speak of a wrong salt, a wrong dose or a wrong scale: ± 6 % and one step of the display. */
  accept: { low: number; high: number } | null;
  conductivity_uS_cm: number;
  sample_C: number;
}

/** Share by which a reading may miss before it is flagged: twice the doubt of the model; meters add 1–2 % (common practice). */
export const FLAG = 0.06;

/**
 * What a meter will read in a water at some sample temperature [°C]. The conductivity is computed at that temperature, not
 * scaled from 25 °C, and then treated the way the meter treats it. `dosing` is the relative standard uncertainty of the
 * conductivity from weighing and dosing.
 */
export function expectedReading(
  of: Speciation,
  meter: Meter = USUAL_METER,
  sample_C = of.temperature_C,
  dosing = 0,
): ExpectedReading {
  const at =
    of.temperature_C === sample_C
      ? of
      : speciate(of.composition, { temperature_C: sample_C, carbon: { by: 'total', carbon: of.carbon } });
  const kappa = MICROSIEMENS_PER_CM * conductivity(at);
  const reading = onScale(compensated(kappa, sample_C, meter.compensation), meter.scale);
  const own = meter.accuracy_pct / 100 / Math.sqrt(3);
  const relative = Math.hypot(CONDUCTIVITY_DOUBT, own, dosing);
  const u = Math.hypot(relative * reading, meter.step / Math.sqrt(12));
  const usable = Number.isFinite(reading);
  return {
    unit: meter.scale.by === 'uS_cm' ? 'µS/cm' : 'ppm',
    reading: usable ? spreadOf(reading, u) : null,
    accept: usable
      ? { low: reading * (1 - FLAG) - meter.step, high: reading * (1 + FLAG) + meter.step }
      : null,
    conductivity_uS_cm: kappa,
    sample_C,
  };
}

export type Verdict = 'as expected' | 'too low' | 'too high' | 'too hot to read';

/** Whether a reading speaks for the water that was meant. */
export function judgeReading(expected: ExpectedReading, shown: number): Verdict {
  if (expected.accept === null) return 'too hot to read';
  if (shown < expected.accept.low) return 'too low';
  return shown > expected.accept.high ? 'too high' : 'as expected';
}
