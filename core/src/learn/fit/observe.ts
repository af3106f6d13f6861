import type { Cup, Trace } from '../../brew/index.ts';
import { strengthFromBrix } from '../../cup/index.ts';
import { pourEnd, type Trial } from '../../documents/index.ts';
import { type LearnFinding, learnFinding } from './finding.ts';
import { CHANNEL_NAMES, type ChannelName, type TrialCase } from './types.ts';

/** Places whose temperature the engine tells. */
const PLACES = ['head', 'bed_top', 'bed_middle', 'bed_bottom', 'drip', 'server'] as const;
export type Place = (typeof PLACES)[number];

/** What was measured of one trial, on the scales of the fit. All arrays have one length, M. */
export interface Observations {
  /** ln of the strength, beverage per dose [g/g], ln of the drawdown, temperatures [K]. */
  values: Float64Array;
  /** Standard deviation of the measurement alone, same scale. */
  doubts: Float64Array;
  /** Place in `CHANNEL_NAMES` of the noise that comes on top; −1 for none. */
  channels: Int8Array;
  /** What each is of. */
  figures: readonly ObservedFigure[];
  courses: readonly ObservedCourse[];
  dose_g: number;
}

/** `level`: a figure, or the mean of a temperature; `shape`: how a temperature goes up and down about its mean. */
export interface ObservedFigure {
  channel: ChannelName;
  where: Place | null;
  kind: 'level' | 'shape';
}

/** Temperatures of one place, gathered into bins of time. */
interface ObservedCourse {
  place: Place;
  /** Moments in each bin [s]. */
  bins: readonly (readonly number[])[];
}

/** Errors of measurement, as standard deviations. */
export const MEASUREMENT = {
  /** One reading of a refractometer, % by mass (needs of the trade: repeats within 0.01) … */
  strength_reading_pct: 0.01,
  /** … and what all readings of one sample share: stirring, cooling, drops left in the pipette (assumed). */
  strength_sample_pct: 0.015,
  /** Balance and the drops that stay in the dripper [g] (assumed). */
  beverage_g: 0.5,
  /** When the surface has reached the bed, as an eye sees it [s] (assumed). */
  drawdown_s: 3,
  /** Thermometer [K]: ±0.5 at any place within it. */
  thermometer_K: 0.5 / Math.sqrt(3),
  /** How closely the course of a temperature about its mean follows the engine [K] (assumed). */
  shape_K: 2,
} as const;

/** Bins of time that a course of temperatures is gathered into at most: points closer than that say the same thing twice. */
const MOST_BINS = 8;
/** Least width of a bin [s]. */
const LEAST_BIN_S = 10;
/** Points later than this after the last thing the plan does say nothing of the brew [s]. */
const AFTER_S = 60;
/** More than this of the dose cannot be in the cup, %. */
const MOST_YIELD_PCT = 40;

interface Found {
  figure: ObservedFigure;
  value: number;
  doubt: number;
}

/** Strength of a trial from all its readings, % by mass, what the sample lost to the air taken off; null without any. */
export function strengthOf(trial: Trial): { value: number; readings: number } | null {
  const readings = [
    ...trial.strength_readings.map(({ strength_pct }) => strength_pct),
    ...trial.brix_readings.map(({ brix }) => strengthFromBrix(brix).strength * 100),
  ].filter((x) => x > 0);
  if (readings.length === 0) return null;
  const mean = readings.reduce((sum, x) => sum + x, 0) / readings.length;
  return { value: mean * (1 - trial.sample_lost_pct / 100), readings: readings.length };
}

/** Reads a trial into observations, and says what cannot be. */
export function observe(from: TrialCase): { observations: Observations; findings: LearnFinding[] } {
  const { trial } = from;
  const findings = impossible(from);
  const wrong = new Set(findings.map(({ code }) => code));
  const found: Found[] = [];
  const strength = strengthOf(trial);
  if (strength && !wrong.has('yield_impossible')) {
    const doubt = Math.hypot(
      MEASUREMENT.strength_reading_pct / Math.sqrt(strength.readings),
      MEASUREMENT.strength_sample_pct,
    );
    found.push(level('strength', Math.log(strength.value), doubt / strength.value));
  }
  if (trial.beverage_g !== null && trial.beverage_g > 0 && !wrong.has('beverage_impossible'))
    found.push(level('beverage', trial.beverage_g / trial.dose_g, MEASUREMENT.beverage_g / trial.dose_g));
  if (trial.drawdown_s !== null && trial.drawdown_s > 0)
    found.push(level('drawdown', Math.log(trial.drawdown_s), MEASUREMENT.drawdown_s / trial.drawdown_s));
  const { courses, temperatures } = temperaturesOf(from);
  found.push(...temperatures);
  return {
    observations: {
      values: Float64Array.from(found, ({ value }) => value),
      doubts: Float64Array.from(found, ({ doubt }) => doubt),
      channels: Int8Array.from(found, ({ figure }) =>
        figure.kind === 'level' ? CHANNEL_NAMES.indexOf(figure.channel) : -1,
      ),
      figures: found.map(({ figure }) => figure),
      courses,
      dose_g: trial.dose_g,
    },
    findings,
  };
}

const level = (channel: ChannelName, value: number, doubt: number): Found => ({
  figure: { channel, where: null, kind: 'level' },
  value,
  doubt,
});

/** What breaks the balance of mass, whatever the coffee. */
function impossible({ trial, bundle }: TrialCase): LearnFinding[] {
  const found: LearnFinding[] = [];
  const planned = bundle.plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
  const water = (trial.water_g ?? planned) + (trial.bypass_g ?? bundle.plan.bypass?.water_g ?? 0);
  const { beverage_g } = trial;
  const most = water + (MOST_YIELD_PCT / 100) * trial.dose_g;
  if (beverage_g !== null && beverage_g > most + 1)
    found.push(
      learnFinding(
        'problem',
        'beverage_impossible',
        { trial: trial.name, beverage: round(beverage_g, 1), water: round(water, 1) },
        trial.id,
      ),
    );
  const strength = strengthOf(trial);
  if (!strength) return found;
  const yield_pct = (strength.value * Math.min(beverage_g ?? most, most)) / trial.dose_g;
  if (yield_pct > MOST_YIELD_PCT)
    found.push(
      learnFinding(
        'problem',
        'yield_impossible',
        {
          trial: trial.name,
          strength: round(strength.value, 2),
          yield: round(yield_pct, 0),
          limit: MOST_YIELD_PCT,
        },
        trial.id,
      ),
    );
  return found;
}

const round = (x: number, decimals: number): number => Number(x.toFixed(decimals));

/** Temperatures of every place, as a level and as a shape about it. */
function temperaturesOf(from: TrialCase): { courses: ObservedCourse[]; temperatures: Found[] } {
  const courses: ObservedCourse[] = [];
  const temperatures: Found[] = [];
  for (const place of PLACES) {
    const bins = binned(pointsAt(from, place));
    if (bins.length === 0) continue;
    courses.push({ place, bins: bins.map((bin) => bin.map(({ time }) => time)) });
    const means = bins.map((bin) => bin.reduce((sum, p) => sum + p.temperature, 0) / bin.length);
    spreadOut(means).forEach((value, k) => {
      const shape = MEASUREMENT.shape_K;
      temperatures.push({
        figure: { channel: 'temperature', where: place, kind: k === 0 ? 'level' : 'shape' },
        value,
        doubt: k === 0 ? Math.hypot(MEASUREMENT.thermometer_K, shape / Math.sqrt(means.length)) : shape,
      });
    });
  }
  return { courses, temperatures };
}

interface Point {
  time: number;
  temperature: number;
}

/** Points of one place from single readings and recorded courses, in order of time, as long as they belong to the brew. */
function pointsAt({ trial, bundle }: TrialCase, place: Place): Point[] {
  const last = Math.max(...bundle.plan.pours.map(pourEnd), ...trial.poured.map(({ end_s }) => end_s));
  const until = trial.drawdown_s ?? trial.end_s ?? bundle.plan.lift_s ?? last + AFTER_S;
  const single = trial.temperatures
    .filter(({ where }) => where === place)
    .map(({ time_s, temperature_C }) => ({ time: time_s, temperature: temperature_C }));
  const recorded = trial.courses
    .filter((course) => course.of === `${place}_C`)
    .flatMap(({ time_s, value }) => time_s.map((time, i) => ({ time, temperature: value[i] ?? Number.NaN })));
  return [...single, ...recorded]
    .filter((p) => p.time >= 0 && p.time <= until && Number.isFinite(p.temperature))
    .sort((a, b) => a.time - b.time);
}

function binned(points: readonly Point[]): Point[][] {
  const first = points[0];
  if (!first) return [];
  const span = points.at(-1)!.time - first.time;
  const width = Math.max(LEAST_BIN_S, (span + 1e-9) / MOST_BINS);
  const bins = new Map<number, Point[]>();
  for (const p of points) {
    const k = Math.min(MOST_BINS - 1, Math.floor((p.time - first.time) / width));
    bins.set(k, [...(bins.get(k) ?? []), p]);
  }
  return [...bins.values()];
}

/**
 * The mean of some values, then their Helmert contrasts: each compares one value with the mean of those before it, scaled so that
 * equal independent errors stay equal and independent.
 */
export function spreadOut(values: ArrayLike<number>): Float64Array {
  const n = values.length;
  const out = new Float64Array(n);
  let sum = 0;
  for (let k = 0; k < n; k++) {
    if (k > 0) out[k] = (values[k]! - sum / k) * Math.sqrt(k / (k + 1));
    sum += values[k]!;
  }
  out[0] = sum / n;
  return out;
}

/** What the engine says of the same figures, on the same scales; NaN where a figure does not exist in this run. */
export function expectedOf(o: Observations, cup: Cup, trace: Trace): Float64Array {
  const out = new Float64Array(o.values.length);
  let k = 0;
  for (const { channel } of o.figures.filter(({ where }) => where === null)) {
    if (channel === 'strength') out[k++] = Math.log(cup.strength_pct);
    else if (channel === 'beverage') out[k++] = cup.beverage_g / o.dose_g;
    else out[k++] = cup.drawdown_s === null ? Number.NaN : Math.log(cup.drawdown_s);
  }
  for (const { place, bins } of o.courses) {
    const course = trace[`${place}_C`];
    const means = bins.map(
      (bin) => bin.reduce((sum, time) => sum + valueAt(trace.time_s, course, time), 0) / bin.length,
    );
    for (const value of spreadOut(means)) out[k++] = value;
  }
  return out;
}

/** Value of a course at a moment, straight between the finite values around it; beyond them the nearest holds. */
export function valueAt(time: Float64Array, values: Float64Array, at: number): number {
  let before = -1;
  for (let i = 0; i < time.length; i++) {
    if (!Number.isFinite(values[i]!)) continue;
    if (time[i]! >= at) {
      if (before < 0) return values[i]!;
      const width = time[i]! - time[before]!;
      const share = width > 0 ? (at - time[before]!) / width : 1;
      return values[before]! + share * (values[i]! - values[before]!);
    }
    before = i;
  }
  return before < 0 ? Number.NaN : values[before]!;
}
