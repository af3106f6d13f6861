import { type Propagated, propagate } from './propagate.ts';
import { type CupRemark, cupRemark, toDecimals } from './sentences.ts';
import { withinLimit } from './uncertainty.ts';

/** What a refractometer can do; percentages are of strength, by mass. */
export interface RefractometerFacts {
  step_pct: number;
  /** Standard deviation when the same sample is read again. */
  repeat_pct: number;
  /** How far the mean of many readings may be off. */
  limit_pct: number;
  /** Between these sample temperatures it corrects by itself. */
  corrects_from_C: number;
  corrects_to_C: number;
}

/** A usual hand-held one (common practice): shows 0.01 %, repeats to 0.01 %, true to ± 0.03 % at filter strength. */
export const PLAIN_REFRACTOMETER: RefractometerFacts = {
  step_pct: 0.01,
  repeat_pct: 0.01,
  limit_pct: 0.03,
  corrects_from_C: 10,
  corrects_to_C: 40,
};

/** One reading of a sample. */
export interface StrengthReading {
  strength_pct: number;
  sample_C: number | null;
}

/** Readings of one sample put together. */
export interface JudgedReadings {
  /** Mean strength [%], corrected for what the sample lost to the air, with its standard uncertainty; null without a reading. */
  strength_pct: Propagated | null;
  /** Of the readings that count; null for fewer than two. */
  sd_pct: number | null;
  /** Which readings were left out, counted from 0. */
  left_out: readonly number[];
  /** Further readings that would still be worth taking. */
  more: number;
  remarks: readonly CupRemark[];
}

/** Readings taken as one sample's; a single bad one among at least this many can be told. */
const LEAST_TO_JUDGE = 3;
/** A reading so many deviations from the middle one is left out (a usual limit for the distance to a median; from memory 3.5). */
const APART = 3.5;
/**
 * What a sample reads wrong per kelvin outside the range an instrument corrects [% strength/K]: the refractive index of water falls by about
 * 1.0·10⁻⁴ per K, one °Brix is 1.43·10⁻³ and 0.85 % of strength (all from memory).
 */
const PER_KELVIN_PCT = 0.059;
/** How well the loss of a sample to the air is known, relative. */
const LOSS_DOUBT = 0.3;
/** Time constant of a small covered sample on its way to room temperature [min]; assumed. */
const SAMPLE_MIN = 6;

/**
 * Puts readings of one sample together: leaves out one that lies apart, takes the mean, corrects for evaporation, and says how far it can be
 * trusted and what to do better. Causes are named `repeat`, `step`, `instrument`, `temperature`, `lost`.
 * @param lost_pct Mass that the sample lost to the air before it was read, %.
 */
export function judgeReadings(
  readings: readonly StrengthReading[],
  facts: RefractometerFacts = PLAIN_REFRACTOMETER,
  { lost_pct = 0, room_C = 22 }: { lost_pct?: number; room_C?: number } = {},
): JudgedReadings {
  if (readings.length === 0) return { strength_pct: null, sd_pct: null, left_out: [], more: 3, remarks: [] };
  const remarks: CupRemark[] = [];
  const apart = oneApart(readings, facts, remarks);
  const kept = readings.filter((_, i) => i !== apart);
  const mean = kept.reduce((sum, { strength_pct }) => sum + strength_pct, 0) / kept.length;
  const sd = deviation(kept.map(({ strength_pct }) => strength_pct));
  const single = Math.max(facts.repeat_pct, sd ?? 0);
  const warm = worstOutside(kept, facts);
  const strength = propagate(
    (x) => (mean + x.repeat + x.step + x.instrument + x.temperature) * (1 - x.lost),
    {
      repeat: { value: 0, uncertainty: single / Math.sqrt(kept.length) },
      step: { value: 0, uncertainty: withinLimit(facts.step_pct / 2) },
      instrument: { value: 0, uncertainty: withinLimit(facts.limit_pct) },
      temperature: { value: 0, uncertainty: PER_KELVIN_PCT * (warm?.outside ?? 0) },
      lost: { value: lost_pct / 100, uncertainty: (LOSS_DOUBT * lost_pct) / 100 },
    },
  );
  if (sd !== null && kept.length >= LEAST_TO_JUDGE && sd > 3 * facts.repeat_pct)
    remarks.push(
      cupRemark('caution', 'readings_scatter', { sd: toDecimals(sd, 3), expected: facts.repeat_pct }),
    );
  if (warm) {
    const { corrects_from_C: from, corrects_to_C: to } = facts;
    const wait = waitMinutes(warm.sample_C, room_C, 2);
    remarks.push(
      cupRemark('caution', 'sample_warm', { sample: warm.sample_C, from, to, room: room_C, wait }),
    );
  } else if (kept.every(({ sample_C }) => sample_C === null))
    remarks.push(cupRemark('note', 'sample_unknown'));
  if (lost_pct > 0) {
    const corrected = toDecimals(strength.value, 3);
    remarks.push(cupRemark('note', 'lost_to_air', { lost: lost_pct, corrected, read: toDecimals(mean, 3) }));
  }
  const more = furtherReadings(kept.length, single, facts);
  if (kept.length === 1) remarks.push(cupRemark('note', 'one_reading', { more: Math.max(2, more) }));
  else if (more > 0) {
    const now = toDecimals(single / Math.sqrt(kept.length), 3);
    const then = toDecimals(single / Math.sqrt(kept.length + more), 3);
    remarks.push(cupRemark('note', 'more_readings', { more, now, then }));
  } else remarks.push(cupRemark('note', 'enough_readings', { limit: facts.limit_pct }));
  return { strength_pct: strength, sd_pct: sd, left_out: apart === null ? [] : [apart], more, remarks };
}

/**
 * Readings after which the scatter of their mean is a third of what the instrument itself may be off, so that more of them change the
 * doubt by a twentieth at most.
 */
export function readingsNeeded(single_pct: number, facts: RefractometerFacts): number {
  const own = Math.max(withinLimit(facts.limit_pct), withinLimit(facts.step_pct / 2));
  return own > 0 ? Math.min(20, Math.max(2, Math.ceil((3 * single_pct) ** 2 / own ** 2))) : 20;
}

const furtherReadings = (count: number, single_pct: number, facts: RefractometerFacts): number =>
  Math.max(0, readingsNeeded(single_pct, facts) - count);

/**
 * Minutes until a sample is within `within_K` of room temperature, for one that comes to it exponentially.
 * @param constant_min Its time constant; 6 min is assumed for a few millilitres in a closed vial.
 */
export function waitMinutes(
  sample_C: number,
  room_C: number,
  within_K: number,
  constant_min = SAMPLE_MIN,
): number {
  const apart = Math.abs(sample_C - room_C);
  return apart <= within_K ? 0 : Math.ceil(constant_min * Math.log(apart / within_K));
}

/** The strength before a sample lost part of its mass as vapour: solids stay, so it reads 1/(1 − lost) times too high. */
export const beforeEvaporation = (strength: number, lost: number): number => strength * (1 - lost);

function oneApart(
  readings: readonly StrengthReading[],
  facts: RefractometerFacts,
  remarks: CupRemark[],
): number | null {
  if (readings.length < LEAST_TO_JUDGE) return null;
  const values = readings.map(({ strength_pct }) => strength_pct);
  const middle = median(values);
  const distances = values.map((v) => Math.abs(v - middle));
  // The middle distance of normal scatter is 0.6745 deviations.
  const scale = Math.max(facts.repeat_pct, facts.step_pct / 2, median(distances) / 0.6745);
  const far = distances.indexOf(Math.max(...distances));
  if (distances[far]! <= APART * scale) return null;
  remarks.push(
    cupRemark('caution', 'reading_apart', {
      row: far + 1,
      value: values[far]!,
      apart: toDecimals(distances[far]!, 3),
    }),
  );
  return far;
}

function worstOutside(
  readings: readonly StrengthReading[],
  { corrects_from_C, corrects_to_C }: RefractometerFacts,
): { sample_C: number; outside: number } | null {
  let worst: { sample_C: number; outside: number } | null = null;
  for (const { sample_C } of readings) {
    if (sample_C === null) continue;
    const outside = Math.max(corrects_from_C - sample_C, sample_C - corrects_to_C);
    if (outside > (worst?.outside ?? 0)) worst = { sample_C, outside };
  }
  return worst;
}

function deviation(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
