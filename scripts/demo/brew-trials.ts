/**
 * Makes up the measured figures of the demo's trials: `npx tsx scripts/demo/brew-trials.ts`, after changing plans or stories. Nobody brewed them. The
 * engine runs what invented hands poured, with a coffee a little other than its defaults (`TRUTH`), so that a fit has something to find; seeded noise of
 * brewing and measuring is added. Writes `brewed.json` and two recordings; `write.ts` then makes the archive of them.
 */
import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import {
  applyLearned,
  type BrewBundle,
  type BrewResult,
  bundlePlan,
  type Coffee,
  coffeeAge,
  coursesOf,
  findPours,
  lookAtTrace,
  matchPours,
  type Plan,
  type PouredAs,
  pourEnd,
  pouredOf,
  readTrace,
  simulate,
  type Tasted,
} from '@pourline/core';
import { type Dice, diceFrom, record } from '../../core/src/trace/testing/synthetic.ts';
import { grinder, setups, venues } from './gear.ts';
import { COFFEE } from './ids.ts';
import { plans } from './plans.ts';
import { coffees, waters } from './shelf.ts';
import { stories, type TrialStory } from './trial-stories.ts';

/** What the invented coffees really are, against the defaults. */
const TRUTH = {
  [COFFEE.washed]: { extractable: 0.29, diffusion: 1.18, ageing_pct_d: -0.6 },
  [COFFEE.anaerobic]: { extractable: 0.31, diffusion: 0.94, ageing_pct_d: -0.4 },
} as const;
const OTHERS = { permeability: 0.88, retained: 0.81, heat_loss: 1.12, grind: {} };
/** Day of ageing from which that drift counts. */
const REFERENCE_D = 14;
/** Brew-to-brew scatter of strength, relative, and doubts of measuring. */
const NOISE = { strength: 0.012, reading_pct: 0.01, beverage_g: 0.4, drawdown_s: 2.5, thermometer_K: 0.5 };
/** Where these invented tasters like a cup best, and how fast that falls off. */
const LIKED = {
  strength_pct: 1.38,
  strength_width: 0.14,
  yield_pct: 18.5,
  yield_width: 2.6,
  top: 8.4,
  height: 4,
};
/** The old refractometer shows °Brix; its true line. */
const BRIX_SLOPE = 0.862;

const all = [...plans, ...coffees, ...waters, ...setups, ...venues, grinder];
const lookup = (id: string) => all.find((document) => document.id === id);
const to = (x: number, decimals: number): number => Math.round(x * 10 ** decimals) / 10 ** decimals;

function bundleOf(plan: Plan): BrewBundle {
  const bundle = bundlePlan(plan, lookup);
  if (!bundle.ok) throw new Error(bundle.problems.map((p) => p.sentence).join('\n'));
  return bundle.value;
}

/** What the hands made of the plan. */
function pouredBy(plan: Plan, story: TrialStory, dice: Dice): PouredAs[] {
  let after = 0;
  return plan.pours.map((pour, i) => {
    const [late, over] = story.slips?.[i] ?? [0, 0];
    const start_s = i === 0 ? 0 : Math.max(after + 1, to(pour.start_s + late + 0.7 * dice.normal(), 2));
    const water_g = to(pour.water_g + over + 0.9 * dice.normal(), 1);
    const flow = (pour.water_g / (pourEnd(pour) - pour.start_s)) * (1 + 0.07 * dice.normal());
    after = to(start_s + water_g / flow, 2);
    return { pour_id: pour.id, start_s, end_s: after, water_g, kettle_C: null };
  });
}

function brewed(
  plan: Plan,
  poured: readonly PouredAs[],
  dose_g: number,
  age_d: number,
  extra: Partial<Plan>,
) {
  const bundle = bundleOf(plan);
  const truth = TRUTH[plan.coffee_id]!;
  const done: Plan = {
    ...bundle.plan,
    dose_g,
    coffee_age_d: age_d,
    pours: bundle.plan.pours.map((pour, i) => ({
      ...pour,
      start_s: poured[i]!.start_s,
      water_g: poured[i]!.water_g,
      rate: { by: 'duration', duration_s: poured[i]!.end_s - poured[i]!.start_s },
    })),
    ...extra,
  };
  const last = Math.max(...done.pours.map(pourEnd));
  if (done.lift_s !== null) done.lift_s = Math.max(done.lift_s, to(last + 8, 1));
  const diffusion = truth.diffusion * Math.exp((truth.ageing_pct_d / 100) * (age_d - REFERENCE_D));
  const applied = applyLearned(
    { ...bundle, plan: done },
    { ...OTHERS, extractable: truth.extractable, diffusion },
  );
  return { done, result: simulate(applied.bundle, { parameters: applied.parameters, resolution: 'draft' }) };
}

/** Value of a course of the engine at a moment. */
function at(result: BrewResult, of: 'bed_middle_C' | 'beverage_g' | 'server_C', t: number): number {
  const { time_s } = result.trace;
  const k = Math.max(
    1,
    time_s.findIndex((x) => x >= t),
  );
  const share = (t - time_s[k - 1]!) / Math.max(1e-9, time_s[k]! - time_s[k - 1]!);
  return result.trace[of][k - 1]! + Math.min(1, share) * (result.trace[of][k]! - result.trace[of][k - 1]!);
}

/** A recording of both balances and the thermometer, four rows a second, begun a few seconds before the first pour. */
function traceOf(result: BrewResult, poured: readonly PouredAs[], dice: Dice): string {
  const begun = 4;
  const length = begun + result.cup.end_s + 8;
  const truth = poured.map((p) => ({
    start_s: p.start_s + begun,
    end_s: p.end_s + begun,
    water_g: p.water_g,
  }));
  const troubles = {
    noise_g: 0.06,
    step_g: 0.1,
    rate_Hz: 5,
    lag_s: 0.15,
    drift_g_s: 0,
    wander: 0.2,
    press: 0.1,
    knocks: [{ at_s: truth[1]!.start_s - 4, for_s: 0.3, by_g: 35 }],
    lifts: [],
    tares: [],
    puts: [],
    missing: 0,
  };
  const { time_s, mass_g } = record(truth, troubles, length, dice);
  const rows = Array.from(time_s, (t, i) => {
    const clock = t - begun;
    const beverage = clock < 0 ? 0 : at(result, 'beverage_g', Math.min(clock, result.cup.end_s));
    const bed = clock < 1 ? 22 : at(result, 'bed_middle_C', Math.min(clock, result.cup.end_s));
    const shown = [t, mass_g[i]!, beverage + 0.05 * dice.normal(), bed + 0.3 * dice.normal()];
    return shown.map((x) => (Math.round(10 * x) / 10).toFixed(1)).join(';');
  });
  return `time_s;poured_g;server_g;bed middle (C)\n${rows.join('\n')}\n`;
}

function likingOf(strength_pct: number, yield_pct: number, dice: Dice): number {
  const far =
    ((strength_pct - LIKED.strength_pct) / LIKED.strength_width) ** 2 +
    ((yield_pct - LIKED.yield_pct) / LIKED.yield_width) ** 2;
  const liking = LIKED.top - LIKED.height * (1 - Math.exp(-far / 2)) + 0.35 * dice.normal();
  return Math.round(2 * Math.max(0, Math.min(10, liking))) / 2;
}

const CUP_C: Record<Tasted['when'], number> = { hot: 64, warm: 50, cold: 33 };

function tastedOf(story: TrialStory, strength_pct: number, yield_pct: number, dice: Dice) {
  return (['hot', 'warm', 'cold'] as const).flatMap((when) => {
    const words = story.words?.[when];
    if (!words) return [];
    const temperature_C = to(CUP_C[when] + 1.5 * dice.normal(), 0);
    const liking = likingOf(strength_pct, yield_pct, dice);
    return [{ when, temperature_C, liking, words, by: story.by ?? 'brewer', blind: story.cup !== undefined }];
  });
}

const folder = new URL('./traces/', import.meta.url);
mkdirSync(folder, { recursive: true });

const figures = stories.map((story, i) => {
  const dice = diceFrom(20_261_100 + i);
  const plan = plans.find(({ id }) => id === story.plan)!;
  const coffee = coffees.find(({ id }) => id === plan.coffee_id) as Coffee;
  const age_d = coffeeAge({ brewed_at: story.at, roasted_on: null, frozen_d: null }, coffee).age_d!;
  const dose_g = to(plan.dose_g + 0.02 * dice.normal(), 2);
  const poured = pouredBy(plan, story, dice);
  const bypass_g = plan.bypass ? to(plan.bypass.water_g + 0.3 * dice.normal(), 1) : null;
  const bypass = plan.bypass && bypass_g !== null ? { ...plan.bypass, water_g: bypass_g } : null;
  const { done, result } = brewed(plan, poured, dose_g, age_d, { bypass });
  const strength = result.cup.strength_pct * (1 + NOISE.strength * dice.normal());
  const beverage_g = to(result.cup.beverage_g + NOISE.beverage_g * dice.normal(), 1);
  const water_g = to(
    poured.reduce((sum, p) => sum + p.water_g, 0),
    1,
  );
  const readings = Array.from({ length: 3 }, () => strength + NOISE.reading_pct * dice.normal());
  const drawdown = result.cup.drawdown_s;
  const moments = [12, 28, 45, 75, 105].filter((t) => t < result.cup.end_s);
  const trace = story.trace ? traceOf(result, poured, dice) : null;
  const base = {
    dose_g,
    water_g,
    beverage_g,
    bypass_g,
    spent_g: story.spent
      ? to(dose_g * (1 - result.cup.total_yield_pct / 100) + result.cup.held_g + 1.5 + 0.4 * dice.normal(), 1)
      : null,
    drawdown_s: drawdown === null ? null : to(drawdown + NOISE.drawdown_s * dice.normal(), 0),
    end_s: to(result.cup.end_s + (done.lift_s === null ? 1.5 * dice.normal() : 0), 0),
    lifted: done.lift_s !== null,
    strength_readings: story.brix
      ? []
      : readings.map((r) => ({ strength_pct: to(r, 2), sample_C: to(22 + 0.5 * dice.normal(), 1) })),
    brix_readings: story.brix
      ? readings.map((r) => ({ brix: to(r / BRIX_SLOPE, 2), sample_C: to(22 + 0.5 * dice.normal(), 1) }))
      : [],
    temperatures: story.thermometer
      ? moments.map((time_s) => ({
          time_s,
          where: 'bed_middle' as const,
          temperature_C: to(at(result, 'bed_middle_C', time_s) + NOISE.thermometer_K * dice.normal(), 1),
        }))
      : [],
    tasted: tastedOf(story, strength, (strength * beverage_g) / dose_g, dice),
  };
  if (trace === null) return { ...base, poured: story.slips ? poured : [] };
  const file = `brew-${i + 1}.csv`;
  writeFileSync(new URL(file, folder), trace);
  const { mapping } = lookAtTrace(trace);
  const recording = readTrace(trace, mapping);
  const mass = recording.channels.find(({ use }) => use === 'poured')!;
  const matched = matchPours(plan, findPours(recording.time_s, mass.value).pours);
  return {
    ...base,
    poured: pouredOf(matched),
    courses: coursesOf(recording, matched.zero_s, 60),
    traces: [
      {
        attachment: createHash('sha256').update(trace).digest('hex'),
        media_type: 'text/csv',
        name: file,
        zero_s: to(matched.zero_s, 2),
        read_as: JSON.stringify(mapping),
      },
    ],
  };
});

writeFileSync(new URL('./brewed.json', import.meta.url), `${JSON.stringify(figures, null, 2)}\n`);
