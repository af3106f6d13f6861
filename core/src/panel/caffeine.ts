import { type Finding, finding } from './findings.ts';

/**
 * Limits of caffeine for adults [mg]: EFSA Journal 2015;13(5):4102. A single dose up to 200 mg and up to 400 mg a day give no concern in
 * healthy adults; 200 mg a day in pregnancy; 200 mg single and daily when breast-feeding. Information, never medical advice.
 */
export const CAFFEINE_LIMITS = {
  occasion_mg: 200,
  day_mg: 400,
  day_pregnant_or_lactating_mg: 200,
  /** Over how long a single dose is counted [h]; assumed: the source gives no time, half of it is gone after about 5 h. */
  occasion_h: 3,
  adult_age: 18,
  /** Near bedtime, a dose that may lengthen falling asleep in some adults [mg]. */
  sleep_mg: 100,
} as const;

/** Half-lives that show how far people differ [h]: fast, mean, and as found in pregnancy; Eur J Clin Pharmacol, saliva HPLC; National Academies 2001. */
export const HALF_LIVES_H = { fast: 3, mean: 5, slow: 8.3 } as const;

/** Caffeine in roasted beans [mg/g], a range and not a point: about 10–12 for arabica (common figures). */
export const BEAN_CAFFEINE_MG_G = { low: 10, high: 12 } as const;

/** A range [mg]. */
export interface Milligrams {
  low: number;
  high: number;
}

/**
 * Caffeine in a whole brew [mg] from its dose [g], caffeine of the beans [mg/g] and the share that is extracted (nearly all in a filter
 * brew; 0.8–1 when not known).
 */
export function brewCaffeine(
  dose_g: number,
  beans: Milligrams = BEAN_CAFFEINE_MG_G,
  extracted: Milligrams = { low: 0.8, high: 1 },
): Milligrams {
  return { low: dose_g * beans.low * extracted.low, high: dose_g * beans.high * extracted.high };
}

/**
 * Caffeine that a taster takes up from a cup [mg]: share of the brew that is in the mouth, times what is kept. `kept` is 1 when swallowed;
 * for spitting nothing was ever measured, so it is 1 too unless a person assumes otherwise.
 */
export function sipCaffeine(brew: Milligrams, brew_mL: number, sipped_mL: number, kept = 1): Milligrams {
  const share = (sipped_mL / brew_mL) * kept;
  return { low: brew.low * share, high: brew.high * share };
}

/** Caffeine taken at a moment. */
export interface Intake {
  /** Hours on any clock that is used throughout. */
  at_h: number;
  mg: Milligrams;
}

/** Caffeine still in the body at a moment [mg]: Σ dose · 2^(−elapsed/half-life); later doses do not count. */
export const remainingCaffeine = (
  doses: readonly { at_h: number; mg: number }[],
  at_h: number,
  half_life_h: number,
): number =>
  doses.reduce(
    (t, { at_h: then, mg }) => (then <= at_h ? t + mg * 2 ** (-(at_h - then) / half_life_h) : t),
    0,
  );

/** What care needs to know of a taster. */
export interface TasterCare {
  name: string;
  /** null: not asked yet. */
  age: number | null;
  pregnant_or_lactating: boolean;
  /** Anything to ask about before serving, in plain words: "reflux". */
  flags?: readonly string[];
  allergens?: readonly string[];
}

/** A taster's caffeine at a moment. */
export interface CaffeineLedger {
  occasion: Milligrams;
  day: Milligrams;
  occasion_limit_mg: number;
  day_limit_mg: number;
  /** Most of such cups that surely stay within both limits; null when a cup has no caffeine at all. */
  cups_left: number | null;
  /** Still in the body, upper ends, by half-life [mg]. */
  remaining_mg: Record<keyof typeof HALF_LIVES_H, number>;
  /** False when the next cup could pass a limit, or the taster may not taste at all. */
  may_taste: boolean;
  findings: Finding[];
}

/**
 * Ledger of one taster before the next cup: what was taken within the last hours and within 24 h, what is left, and whether to stop. Stops on
 * intake at its upper end, not on what is left in the body. A caution, not advice.
 */
export function caffeineLedger(
  taster: TasterCare,
  intakes: readonly Intake[],
  now_h: number,
  next_cup: Milligrams,
): CaffeineLedger {
  const within = (hours: number): Milligrams =>
    intakes
      .filter(({ at_h }) => at_h <= now_h && at_h > now_h - hours)
      .reduce((t, { mg }) => ({ low: t.low + mg.low, high: t.high + mg.high }), { low: 0, high: 0 });
  const limits = CAFFEINE_LIMITS;
  const occasion = within(limits.occasion_h);
  const day = within(24);
  const dayLimit = taster.pregnant_or_lactating ? limits.day_pregnant_or_lactating_mg : limits.day_mg;
  const room = Math.max(0, Math.min(limits.occasion_mg - occasion.high, dayLimit - day.high));
  // A crumb, so that a limit that is met exactly is not passed by rounding.
  const cups = next_cup.high > 0 ? Math.floor(room / next_cup.high + 1e-9) : null;
  const admitted = admission(taster);
  const findings = [...admitted];
  const name = taster.name;
  if (cups === 0 && day.high + next_cup.high > dayLimit)
    findings.push(
      finding('caution', 'day_limit', { taster: name, mg: Math.round(day.high), limit: dayLimit }),
    );
  else if (cups === 0)
    findings.push(
      finding('caution', 'occasion_limit', {
        taster: name,
        mg: Math.round(occasion.high),
        hours: limits.occasion_h,
        limit: limits.occasion_mg,
      }),
    );
  else if (cups !== null)
    findings.push(
      finding('note', 'caffeine_left', {
        taster: name,
        cups,
        limit: dayLimit - day.high < limits.occasion_mg - occasion.high ? dayLimit : limits.occasion_mg,
      }),
    );
  const upper = intakes.map(({ at_h, mg }) => ({ at_h, mg: mg.high }));
  const left = (h: number) => remainingCaffeine(upper, now_h, h);
  return {
    occasion,
    day,
    occasion_limit_mg: limits.occasion_mg,
    day_limit_mg: dayLimit,
    cups_left: cups,
    remaining_mg: {
      fast: left(HALF_LIVES_H.fast),
      mean: left(HALF_LIVES_H.mean),
      slow: left(HALF_LIVES_H.slow),
    },
    may_taste: cups !== 0 && !admitted.some((f) => f.firmness === 'cannot'),
    findings,
  };
}

/** Whether a person may taste at all: adults only, and only when they said so. Flags are asked about, never judged. */
export function admission(taster: TasterCare): Finding[] {
  const limit = CAFFEINE_LIMITS.adult_age;
  const findings: Finding[] = [];
  if (taster.age === null) findings.push(finding('cannot', 'age_missing', { taster: taster.name, limit }));
  else if (taster.age < limit)
    findings.push(finding('cannot', 'minor_refused', { taster: taster.name, age: taster.age, limit }));
  const flags = [
    ...(taster.pregnant_or_lactating ? ['pregnancy or breast-feeding'] : []),
    ...(taster.flags ?? []),
  ];
  return [...findings, ...flags.map((flag) => finding('caution', 'ask_care', { taster: taster.name, flag }))];
}
