import {
  boilingPoint,
  celsius,
  GRAM,
  HECTOPASCAL,
  MILLILITRE,
  MILLIMETRE,
  standardPressure,
} from '../units/index.ts';
import { chargeImbalance, chargeSums } from '../water/index.ts';
import type { BrewBundle } from './bundle.ts';
import type { Setup } from './kinds/setup.ts';
import type { Venue } from './kinds/venue.ts';
import { type Problem, problem } from './problem.ts';

/** A problem that only shows when documents meet. */
export interface BundleProblem extends Problem {
  /** Document that the path leads into. */
  document_id: string;
  /**
   * `problem`: the brew cannot be done as written, so a prediction would be of another brew. `caution`: it can, but
   * something in it deserves a second look.
   */
  level: 'problem' | 'caution';
}

/** Density of a dry bed as it lies loosest [kg/m³]: ground coffee lies at 300–450 kg/m³ (from memory). */
const LOOSEST_BED = 300;

/** Charge that must be missing [%] and [meq/L] before a water is worth a remark; below, rounding on a label explains it. */
const IMBALANCE_PCT = 5;
const IMBALANCE_MEQ_L = 0.02;

/** Air pressure at a venue [Pa]: as measured, else that of the standard atmosphere at its altitude. */
export const venuePressure = (venue: Pick<Venue, 'pressure_hPa' | 'altitude_m'>): number =>
  venue.pressure_hPa === null ? standardPressure(venue.altitude_m) : venue.pressure_hPa * HECTOPASCAL;

/** Hottest that a kettle can be set at a venue [°C]: the boiling point to the tenth of a degree that kettles show. */
export const hottestKettle_C = (venue: Pick<Venue, 'pressure_hPa' | 'altitude_m'>): number =>
  toTenth(celsius(boilingPoint(venuePressure(venue))));

/** Volume that a dripper holds to its rim [m³], as the frustum of a cone. */
export function dripperVolume(dripper: Setup['dripper']): number {
  const top = dripper.rim_diameter_mm * MILLIMETRE;
  const bottom = dripper.bottom_diameter_mm * MILLIMETRE;
  return (Math.PI / 12) * dripper.height_mm * MILLIMETRE * (top * top + top * bottom + bottom * bottom);
}

/**
 * Finds what no single schema can see: kettles hotter than water boils at the venue, an outlet kept closed on a dripper
 * without a valve, a dose that the dripper cannot hold, a kettle filled with more than it holds, cups that are not there,
 * waters with a missing ion. Empty when all is well. Takes documents
 * that have passed their own checks; never throws for them.
 */
export function checkBundle(bundle: BrewBundle): BundleProblem[] {
  return [
    ...tooHot(bundle),
    ...withoutValve(bundle),
    ...tooSmall(bundle),
    ...overfilled(bundle),
    ...withoutCup(bundle),
    ...unbalanced(bundle),
  ];
}

function tooHot({ plan, venue }: BrewBundle): BundleProblem[] {
  const limit = hottestKettle_C(venue);
  const asked: [path: (string | number)[], temperature_C: number][] = plan.pours.map((pour, i) => [
    ['pours', i, 'kettle_temperature_C'],
    pour.kettle_temperature_C,
  ]);
  plan.kettles.forEach((use, i) => {
    if (use.start_C !== null) asked.push([['kettles', i, 'start_C'], use.start_C]);
  });
  if (plan.rinse) asked.push([['rinse', 'temperature_C'], plan.rinse.temperature_C]);
  if (plan.bypass) asked.push([['bypass', 'temperature_C'], plan.bypass.temperature_C]);
  return asked
    .filter(([, temperature_C]) => temperature_C > limit)
    .map(([path, temperature_C]) =>
      blocking(plan.id, problem(path, 'too_hot_to_hold', { value: `${temperature_C} °C`, limit })),
    );
}

function withoutValve({ plan, setup }: BrewBundle): BundleProblem[] {
  if (plan.outlet_opens_s === null || setup.dripper.valve) return [];
  return [
    blocking(
      plan.id,
      problem(['outlet_opens_s'], 'outlet_needs_valve', { value: `${plan.outlet_opens_s} s` }),
    ),
  ];
}

function tooSmall({ plan, setup }: BrewBundle): BundleProblem[] {
  const bed = (plan.dose_g * GRAM) / LOOSEST_BED;
  const room = dripperVolume(setup.dripper);
  if (bed <= room) return [];
  const values = {
    value: `${plan.dose_g} g`,
    volume: Math.ceil(bed / MILLILITRE),
    limit: Math.floor(room / MILLILITRE),
    dose: Math.floor((10 * room * LOOSEST_BED) / GRAM) / 10,
  };
  return [blocking(plan.id, problem(['dose_g'], 'dripper_too_small', values))];
}

function overfilled({ plan, setup }: BrewBundle): BundleProblem[] {
  return plan.kettles.flatMap((use, i) => {
    const kettle = setup.kettles.find(({ id }) => id === use.kettle_id);
    if (!kettle || use.fill_g === null || use.fill_g <= kettle.capacity_g) return [];
    const values = { value: `${use.fill_g} g`, name: kettle.name, limit: kettle.capacity_g };
    return [blocking(plan.id, problem(['kettles', i, 'fill_g'], 'overfilled', values))];
  });
}

function withoutCup({ plan, setup }: BrewBundle): BundleProblem[] {
  if (!plan.serving || setup.cup) return [];
  const found = problem(['serving'], 'no_cup', { name: setup.name });
  return [{ ...found, document_id: plan.id, level: 'caution' }];
}

function unbalanced({ waters }: BrewBundle): BundleProblem[] {
  return Object.values(waters).flatMap((water) => {
    const percent = Math.abs(chargeImbalance(water));
    const { positive, negative } = chargeSums(water);
    if (percent <= IMBALANCE_PCT || Math.abs(positive - negative) <= IMBALANCE_MEQ_L) return [];
    const values = {
      name: water.name,
      value: toTenth(percent),
      positive: positive.toFixed(2),
      negative: negative.toFixed(2),
    };
    return [{ ...problem([], 'charge_imbalance', values), document_id: water.id, level: 'caution' as const }];
  });
}

const blocking = (document_id: string, found: Problem): BundleProblem => ({
  ...found,
  document_id,
  level: 'problem',
});

const toTenth = (x: number): number => Math.round(10 * x) / 10;
