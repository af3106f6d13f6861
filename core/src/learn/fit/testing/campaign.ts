/** Invented campaigns whose truth is known: the engine brews them, chance adds what hands and instruments add. */

import { compileCase } from '../../../brew/compile.ts';
import { runCase } from '../../../brew/run.ts';
import { cupOf } from '../../../brew/summarise.ts';
import type { BrewBundle, Plan, Trial } from '../../../documents/index.ts';
import { sample, sampleBundle } from '../../../documents/testing/samples.ts';
import { diceFrom } from '../../chance.ts';
import { applyLearned, type LearnedValues } from '../apply.ts';
import { asBrewed } from '../as-brewed.ts';
import { MEASUREMENT, valueAt } from '../observe.ts';
import type { TrialCase, TrialSet } from '../types.ts';

const uuid = (n: number): string => `0190a5d2-7c3e-7b10-8f01-${n.toString(16).padStart(12, '0')}`;

/** How the brews of a campaign differ. */
export interface Brew {
  /** Factor on the sample plan's kettle temperatures in excess of 60 °C, on its water, on its pace. */
  hotter: number;
  water: number;
  slower: number;
  /** Share of the coarser of the two settings. */
  coarse: number;
  /** Place in the list of setups. */
  setup: number;
  age_d: number;
}

/** What is true of an invented campaign. */
export interface Truth extends Omit<LearnedValues, 'permeability' | 'grind'> {
  /** ln of the change of diffusion per day. */
  ageing: number;
  /** By setup. */
  permeability: readonly number[];
  grind: number;
  noise: { strength: number; beverage: number; drawdown: number; temperature: number };
}

export const PLAIN_TRUTH: Truth = {
  extractable: 0.3,
  diffusion: 1,
  ageing: 0,
  permeability: [1],
  retained: 0.8,
  heat_loss: 1,
  grind: 1,
  noise: { strength: 0.015, beverage: 0.07, drawdown: 0.05, temperature: 1 },
};

/** Brews that differ in everything, in a fixed order. */
export function variedBrews(count: number, setups = 1, seed = 7): Brew[] {
  const dice = diceFrom(seed);
  const between = (low: number, high: number): number => low + (high - low) * dice.uniform();
  return Array.from({ length: count }, (_, i) => ({
    hotter: between(0.8, 1.1),
    water: between(0.9, 1.2),
    slower: between(0.9, 1.3),
    coarse: between(0.4, 1),
    setup: i % setups,
    age_d: Math.round(between(5, 40)),
  }));
}

/** `repeats` brews of each of `plans` plans. */
export const repeatedBrews = (plans: number, repeats: number, setups = 1): Brew[] =>
  variedBrews(plans, setups, 11).flatMap((brew) =>
    Array.from({ length: repeats }, (_, k) => ({ ...brew, age_d: brew.age_d + k })),
  );

/** A bundle of the sample documents, changed as a brew says: no lift, no bypass, so that it drains. */
export function bundleOf(brew: Brew): BrewBundle {
  const bundle = sampleBundle();
  const [coarse, fine] = bundle.plan.grind;
  const plan: Plan = {
    ...bundle.plan,
    grind: [
      { ...coarse!, share: brew.coarse },
      { ...fine!, share: 1 - brew.coarse },
    ],
    pours: bundle.plan.pours.map((pour) => ({
      ...pour,
      start_s: pour.start_s * brew.slower,
      water_g: pour.water_g * brew.water,
      kettle_temperature_C: Math.min(99, 60 + (pour.kettle_temperature_C - 60) * brew.hotter),
    })),
    actions: [],
    lift_s: null,
    bypass: null,
    kettles: [],
    chill: null,
    serving: null,
  };
  const setup = { ...bundle.setup, id: uuid(100 + brew.setup), name: `Setup ${brew.setup + 1}` };
  return { ...bundle, plan, setup, coffee: { ...bundle.coffee, extractable_pct: null } };
}

/** Moments at which the thermometer in the middle of the bed is read [s]. */
const READ_S = [20, 50, 80, 110];

/** Brews a campaign, as finely as results are shown or roughly: what its trials would have measured. */
export function syntheticSet(
  brews: readonly Brew[],
  truth: Truth,
  seed: number,
  resolution: 'draft' | 'standard' = 'standard',
): TrialSet {
  const dice = diceFrom(seed);
  const trials = brews.map((brew, i): TrialCase => {
    const bundle = bundleOf(brew);
    const bare: Trial = {
      ...sample('trial'),
      id: uuid(1_000 + i),
      name: `Brew ${i + 1}`,
      brewed_at: new Date(Date.UTC(2027, 1, 1 + i)).toISOString(),
      dose_g: bundle.plan.dose_g,
      water_g: bundle.plan.pours.reduce((sum, pour) => sum + pour.water_g, 0),
      lifted: false,
      end_s: null,
      poured: [],
      courses: [],
      temperatures: [],
      strength_readings: [],
      brix_readings: [],
      beverage_g: null,
      bypass_g: null,
      drawdown_s: null,
      sample_lost_pct: 0,
      air_C: null,
      counted: true,
    };
    const from: TrialCase = { trial: bare, bundle, age_d: brew.age_d };
    return { ...from, trial: measured(from, brew, truth, dice, resolution) };
  });
  return { coffee: { ...sampleBundle().coffee, extractable_pct: null }, trials, findings: [] };
}

/** Age about which the truth of a campaign is told [d]. */
export const TRUTH_AGE_D = 20;

function measured(
  from: TrialCase,
  brew: Brew,
  truth: Truth,
  dice: ReturnType<typeof diceFrom>,
  resolution: 'draft' | 'standard',
): Trial {
  const brewed = asBrewed(from);
  const applied = applyLearned(brewed, {
    ...truth,
    diffusion: truth.diffusion * Math.exp(truth.ageing * (brew.age_d - TRUTH_AGE_D)),
    permeability: truth.permeability[brew.setup] ?? 1,
    grind: Object.fromEntries(Object.keys(brewed.grinders).map((id) => [id, truth.grind])),
  });
  const c = compileCase(applied.bundle, applied.parameters, resolution);
  const run = runCase(c);
  const cup = cupOf(applied.bundle, c, run);
  const trace = run.recorder.finish();
  const { noise } = truth;
  const e = (sd: number): number => sd * dice.student(4);
  const strength = cup.strength_pct * Math.exp(e(noise.strength));
  const offset = e(noise.temperature) + e(MEASUREMENT.thermometer_K);
  return {
    ...from.trial,
    strength_readings: [0, 1].map(() => ({
      strength_pct: strength + e(MEASUREMENT.strength_reading_pct),
      sample_C: null,
    })),
    beverage_g: cup.beverage_g + from.trial.dose_g * e(noise.beverage) + e(MEASUREMENT.beverage_g),
    drawdown_s:
      cup.drawdown_s === null
        ? null
        : Math.max(1, cup.drawdown_s * Math.exp(e(noise.drawdown)) + e(MEASUREMENT.drawdown_s)),
    temperatures: READ_S.map((time_s) => ({
      time_s,
      where: 'bed_middle' as const,
      temperature_C: valueAt(trace.time_s, trace.bed_middle_C, time_s) + offset + e(MEASUREMENT.shape_K),
    })),
  };
}
