import type { Instrument, Plan, Trial } from '../documents/index.ts';
import { type BrewBalance, type BrewMethod, brewBalance } from './brew-balance.ts';
import { beyondPairs, fitBrix, strengthByFit } from './brix-fit.ts';
import { type Propagated, propagate } from './propagate.ts';
import {
  type JudgedReadings,
  judgeReadings,
  PLAIN_REFRACTOMETER,
  type RefractometerFacts,
} from './readings.ts';
import { type CupRemark, cupRemark, toDecimals } from './sentences.ts';
import { type Measured, withinLimit } from './uncertainty.ts';

/** What a trial's figures were measured with; what is left out is a plain one. */
export interface TrialInstruments {
  balance?: Instrument | undefined;
  refractometer?: Instrument | undefined;
}

/** The mass balance of a trial in read units: g, and % of dose or of mass. Null where a measurement is missing. */
export interface TrialBalance {
  method: BrewMethod;
  strength_pct: Propagated | null;
  yield_pct: Propagated | null;
  total_yield_pct: Propagated | null;
  solids_g: Propagated | null;
  held_g: Propagated | null;
  held_per_dose: Propagated | null;
  ratio: Propagated | null;
  /** Mass that the balance misses; null unless the spent grounds were weighed. */
  unaccounted_g: Propagated | null;
  readings: JudgedReadings;
  remarks: readonly CupRemark[];
}

/** A usual kitchen balance (common practice): shows 0.1 g, true to ± 0.1 g. */
const PLAIN_BALANCE = { step_g: 0.1, limit_g: 0.1 };
/**
 * Share of the poured water that turns to vapour until the beverage is weighed, and its doubt; assumed: the engine gives 0.4–1.2 % for
 * the plans of the demo campaign.
 */
const EVAPORATED = { share: 0.008, doubt: 0.005 };
/** Strength of the liquid a washed bed still holds, and its doubt; assumed. */
const HELD_STRENGTH: Measured = { value: 0.003, uncertainty: 0.003 };
/** How well the mass of added water is known when only planned, relative. */
const PLANNED_DOUBT = 0.05;

/** What a balance asks of a plan. */
export type MethodPlan = Pick<Plan, 'outlet_opens_s' | 'pours' | 'bypass'>;

/** Immersion while the outlet is closed under all the pours; a brew whose pours go on afterwards washes itself. */
export function methodOf(plan: Pick<Plan, 'outlet_opens_s' | 'pours'> | undefined): BrewMethod {
  const opens = plan?.outlet_opens_s ?? null;
  if (!plan || opens === null) return 'percolation';
  return plan.pours.every(({ start_s }) => start_s < opens) ? 'immersion' : 'percolation';
}

/** Facts of a refractometer's document; a plain one without it. */
export function refractometerFacts(instrument: Instrument | undefined): RefractometerFacts {
  return instrument?.is.what === 'refractometer' ? instrument.is : PLAIN_REFRACTOMETER;
}

/**
 * Strength, yield, held liquid and what is missing of a trial, each with its standard uncertainty and the causes of it. What was not measured is
 * assumed with a wide doubt (vapour, strength of the held liquid) or left null.
 */
export function balanceOfTrial(
  trial: Trial,
  plan: MethodPlan | undefined,
  instruments: TrialInstruments = {},
): TrialBalance {
  const then = trial.plan_then ?? plan;
  const method = methodOf(then);
  const { readings, remarks } = readingsOfTrial(trial, instruments.refractometer);
  const strength = readings.strength_pct;
  const balance = brewBalance({
    method,
    dose: weighed(trial.dose_g, instruments.balance),
    water: maybe(trial.water_g, instruments.balance),
    beverage: maybe(trial.beverage_g, instruments.balance),
    strength: strength ? { value: strength.value / 100, uncertainty: strength.uncertainty / 100 } : null,
    bypass: bypassOf(trial, then, instruments.balance),
    evaporated: evaporatedOf(trial.water_g),
    heldStrength: HELD_STRENGTH,
    spent: maybe(trial.spent_g, instruments.balance),
    paper: { value: 1.5, uncertainty: 0.2 },
  });
  return {
    method,
    strength_pct: strength,
    yield_pct: percent(balance.yield),
    total_yield_pct: percent(balance.totalYield),
    solids_g: balance.solids,
    held_g: balance.held,
    held_per_dose: balance.heldPerDose,
    ratio: balance.ratio,
    unaccounted_g: balance.unaccounted,
    readings,
    remarks: [...readings.remarks, ...remarks, ...closureRemarks(balance)],
  };
}

/** The readings of a trial as strengths: those in °Brix by the instrument's own line. */
export function readingsOfTrial(
  trial: Pick<Trial, 'strength_readings' | 'brix_readings' | 'sample_lost_pct' | 'air_C'>,
  refractometer: Instrument | undefined,
): { readings: JudgedReadings; remarks: CupRemark[] } {
  const facts = refractometerFacts(refractometer);
  const options = { lost_pct: trial.sample_lost_pct, room_C: trial.air_C ?? 22 };
  if (trial.brix_readings.length === 0 || trial.strength_readings.length > 0)
    return { readings: judgeReadings(trial.strength_readings, facts, options), remarks: [] };
  const pairs = refractometer?.is.what === 'refractometer' ? refractometer.is.pairs : [];
  const fit = fitBrix(pairs);
  const converted = trial.brix_readings.map(({ brix, sample_C }) => ({
    strength_pct: strengthByFit(fit, brix).value,
    sample_C,
  }));
  const judged = judgeReadings(converted, facts, options);
  const mean = trial.brix_readings.reduce((sum, { brix }) => sum + brix, 0) / trial.brix_readings.length;
  const line = strengthByFit(fit, mean).uncertainty;
  const read = judged.strength_pct!;
  const strength_pct = withCause(read, 'calibration', line);
  return {
    readings: { ...judged, strength_pct },
    remarks: [...fit.remarks, ...beyondPairs(fit, toDecimals(mean, 2))],
  };
}

/** The same figure with one more independent cause of doubt. */
function withCause(figure: Propagated, cause: string, part: number): Propagated {
  const uncertainty = Math.hypot(figure.uncertainty, part);
  const all = [...figure.causes.map((c) => ({ cause: c.cause, part: c.part })), { cause, part }];
  return {
    value: figure.value,
    uncertainty,
    causes: all
      .map((c) => ({ ...c, share: uncertainty > 0 ? (c.part / uncertainty) ** 2 : 0 }))
      .sort((a, b) => b.part - a.part),
  };
}

const weighed = (value: number, balance: Instrument | undefined): Measured => {
  const { step_g, limit_g } = balance?.is.what === 'balance' ? balance.is : PLAIN_BALANCE;
  return { value, uncertainty: Math.hypot(withinLimit(step_g / 2), withinLimit(limit_g)) };
};
const maybe = (value: number | null, balance: Instrument | undefined): Measured | null =>
  value === null ? null : weighed(value, balance);

const bypassOf = (trial: Trial, plan: MethodPlan | undefined, balance: Instrument | undefined): Measured => {
  if (trial.bypass_g !== null) return weighed(trial.bypass_g, balance);
  const planned = plan?.bypass?.water_g ?? 0;
  return { value: planned, uncertainty: PLANNED_DOUBT * planned };
};

const evaporatedOf = (water: number | null): Measured => ({
  value: EVAPORATED.share * (water ?? 0),
  uncertainty: EVAPORATED.doubt * (water ?? 0),
});

const percent = (figure: Propagated | null): Propagated | null =>
  figure && {
    value: 100 * figure.value,
    uncertainty: 100 * figure.uncertainty,
    causes: figure.causes.map((c) => ({ ...c, part: 100 * c.part })),
  };

/** A balance open by more than twice its doubt is worth a word. */
function closureRemarks({ unaccounted }: BrewBalance): CupRemark[] {
  if (!unaccounted) return [];
  const { value, uncertainty } = unaccounted;
  if (Math.abs(value) <= Math.max(1, 2 * uncertainty)) return [];
  const values = { mass: toDecimals(Math.abs(value), 1), doubt: toDecimals(uncertainty, 1) };
  return [cupRemark('caution', value > 0 ? 'mass_missing' : 'mass_too_much', values)];
}

/** Yield from any figures at hand, for a face that has no trial: % from %, g and g. */
export const plainYield = (strength_pct: Measured, beverage_g: Measured, dose_g: Measured): Propagated =>
  propagate((x) => (x.strength * x.beverage) / x.dose, {
    strength: strength_pct,
    beverage: beverage_g,
    dose: dose_g,
  });
