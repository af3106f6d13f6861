import {
  type BundleProblem,
  type Coffee,
  hottestKettle_C,
  type Lookup,
  type Plan,
  type Problem,
  pourEnd,
  problem,
  type Trial,
  type Venue,
} from '../documents/index.ts';
import { coffeeAge } from './coffee-age.ts';
import { toDecimals } from './sentences.ts';
import { balanceOfTrial } from './trial-balance.ts';

/** No roasted coffee gives more of its dose than this, %; the usual most is 30 (Moroney et al. 2015, Liang et al. 2021, from memory). */
const MOST_YIELD = 36;
const USUAL_YIELD = 30;
/** Liquid held per dose that is worth a second look outside of this [g/g]; common practice is 2.0–2.2, an early lift leaves more. */
const HELD = { low: 1, high: 4.5 };
/** A bed that was lifted off before it had drained holds more [g/g]. */
const HELD_LIFTED = { low: 1, high: 8 };
/** Differences to the plan that are worth a word: share of its water, share of its dose. */
const OTHER_WATER = 0.08;
const OTHER_DOSE = 0.04;
/** Pours that were recorded and the water that was weighed agree within this [g]. */
const SAME_WATER_G = 5;
/** A thermometer may read this much above the boiling point [K]. */
const THERMOMETER_K = 1;

/**
 * Finds what only shows when a trial meets its plan, its coffee and its place: references that lead nowhere, more beverage than water, a strength that no
 * such dose can give, times that contradict the pours, temperatures above boiling. Empty when all is well. Takes checked documents; never throws.
 */
export function checkTrial(trial: Trial, lookup: Lookup): BundleProblem[] {
  const plan = trial.plan_then ?? of<Plan>('plan', trial.plan_id, lookup);
  const coffee = of<Coffee>('coffee', trial.coffee_id ?? plan?.coffee_id, lookup);
  const venue = of<Venue>('venue', trial.venue_id ?? plan?.venue_id, lookup);
  const found: Found[] = [
    ...references(trial, lookup),
    ...masses(trial, plan),
    ...yields(trial, plan, lookup),
    ...times(trial, plan),
    ...tooHot(trial, venue),
    ...beforeRoast(trial, coffee),
  ];
  return found.map(([level, p]) => ({ ...p, level, document_id: trial.id }));
}

type Found = readonly [BundleProblem['level'], Problem];

function of<D>(kind: string, id: string | null | undefined, lookup: Lookup): D | undefined {
  const found = id === null || id === undefined ? undefined : lookup(id);
  return found?.kind === kind ? (found as D) : undefined;
}

function references(trial: Trial, lookup: Lookup): Found[] {
  const named = [
    ['plan_id', 'plan'],
    ['coffee_id', 'coffee'],
    ['venue_id', 'venue'],
    ['balance_id', 'instrument'],
    ['refractometer_id', 'instrument'],
    ['thermometer_id', 'instrument'],
  ] as const;
  return named.flatMap(([field, kind]): Found[] => {
    const id = trial[field];
    if (id === null || lookup(id)?.kind === kind) return [];
    return [
      [
        'problem',
        problem([field], 'not_found', { kind: kind === 'instrument' ? 'measuring instrument' : kind }),
      ],
    ];
  });
}

const poured = (plan: Plan): number => plan.pours.reduce((sum, { water_g }) => sum + water_g, 0);

function masses(trial: Trial, plan: Plan | undefined): Found[] {
  const found: Found[] = [];
  const { water_g, beverage_g, dose_g } = trial;
  const added = trial.bypass_g ?? plan?.bypass?.water_g ?? 0;
  const water = water_g ?? (plan ? poured(plan) : null);
  if (beverage_g !== null && water !== null && beverage_g > water + added + 0.3 * dose_g)
    found.push([
      'problem',
      problem(['beverage_g'], 'beverage_above_water', {
        value: `${beverage_g} g`,
        limit: toDecimals(water + added, 1),
      }),
    ]);
  if (plan && water_g !== null && Math.abs(water_g - poured(plan)) > OTHER_WATER * poured(plan))
    found.push(['caution', problem(['water_g'], 'not_as_planned', other(water_g, poured(plan)))]);
  if (plan && Math.abs(dose_g - plan.dose_g) > OTHER_DOSE * plan.dose_g)
    found.push(['caution', problem(['dose_g'], 'not_as_planned', other(dose_g, plan.dose_g))]);
  const recorded = trial.poured.reduce((sum, pour) => sum + pour.water_g, 0);
  if (water_g !== null && trial.poured.length > 0 && Math.abs(recorded - water_g) > SAME_WATER_G)
    found.push([
      'caution',
      problem(['water_g'], 'pours_other_sum', { value: `${water_g} g`, sum: toDecimals(recorded, 1) }),
    ]);
  return found;
}

const other = (value: number, planned: number) => ({
  value: `${value} g`,
  limit: `${toDecimals(planned, 1)} g`,
});

function yields(trial: Trial, plan: Plan | undefined, lookup: Lookup): Found[] {
  const found: Found[] = [];
  const refractometer = trial.refractometer_id === null ? undefined : lookup(trial.refractometer_id);
  const balance = balanceOfTrial(trial, plan, {
    refractometer: refractometer?.kind === 'instrument' ? refractometer : undefined,
  });
  const strength = balance.strength_pct;
  const given = balance.yield_pct?.value;
  const field = trial.strength_readings.length > 0 ? 'strength_readings' : 'brix_readings';
  if (strength && given !== undefined && given > USUAL_YIELD)
    found.push([
      given > MOST_YIELD ? 'problem' : 'caution',
      problem([field], given > MOST_YIELD ? 'strength_impossible' : 'strength_high', {
        value: toDecimals(strength.value, 2),
        beverage: trial.beverage_g ?? 0,
        dose: trial.dose_g,
        yield: toDecimals(given, 1),
        limit: given > MOST_YIELD ? MOST_YIELD : USUAL_YIELD,
      }),
    ]);
  const held = balance.held_per_dose?.value;
  const usual = trial.lifted || (plan?.lift_s ?? null) !== null ? HELD_LIFTED : HELD;
  if (held !== undefined && (held < usual.low || held > usual.high))
    found.push([
      'caution',
      problem(['beverage_g'], 'held_odd', {
        value: `${trial.beverage_g} g`,
        held: toDecimals(held, 1),
        ...usual,
      }),
    ]);
  return found;
}

function times(trial: Trial, plan: Plan | undefined): Found[] {
  const found: Found[] = [];
  const ends = [
    ...trial.poured.map(({ end_s }) => end_s),
    ...(trial.poured.length > 0 || !plan ? [] : plan.pours.map(pourEnd)),
  ];
  const last = ends.length > 0 ? toDecimals(Math.max(...ends), 1) : null;
  for (const field of ['drawdown_s', 'end_s'] as const) {
    const at = trial[field];
    // Hands may be a little ahead of a plan; of what they really did nothing is ahead.
    const slack = trial.poured.length > 0 ? 1 : 10;
    if (at !== null && last !== null && at < last - slack)
      found.push(['problem', problem([field], 'before_last_pour', { value: `${at} s`, limit: last })]);
  }
  if (trial.drawdown_s !== null && trial.end_s !== null && trial.end_s < trial.drawdown_s)
    found.push([
      'caution',
      problem(['end_s'], 'ends_before_start', { value: `${trial.end_s} s`, limit: `${trial.drawdown_s} s` }),
    ]);
  return found;
}

function tooHot(trial: Trial, venue: Venue | undefined): Found[] {
  if (!venue) return [];
  const limit = hottestKettle_C(venue);
  const hot = trial.temperatures.findIndex(({ temperature_C }) => temperature_C > limit + THERMOMETER_K);
  if (hot < 0) return [];
  const value = `${trial.temperatures[hot]!.temperature_C} °C`;
  return [['caution', problem(['temperatures', hot, 'temperature_C'], 'above_boiling', { value, limit })]];
}

function beforeRoast(trial: Trial, coffee: Coffee | undefined): Found[] {
  const roasted = trial.roasted_on ?? coffee?.roasted_on ?? null;
  if (roasted !== null && trial.brewed_at.slice(0, 10) < roasted)
    return [
      ['problem', problem(['brewed_at'], 'dates_out_of_order', { value: trial.brewed_at, limit: roasted })],
    ];
  const { since_roast_d } = coffeeAge(trial, coffee);
  if (since_roast_d === null || trial.frozen_d === null || trial.frozen_d <= since_roast_d + 1) return [];
  const values = { value: `${trial.frozen_d} d`, limit: `${Math.floor(since_roast_d)} d` };
  return [['problem', problem(['frozen_d'], 'frozen_too_long', values)]];
}
