import { type BrewBundle, bundlePlan, checkArchive } from '@pourline/core';
import type { BrewCase } from '../../core/src/brew/case.ts';
import { LIQUID_DENSITY } from '../../core/src/brew/liquid.ts';
import { blankCase } from '../../core/src/brew/reduced/blank-case.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { caseOf, type Draw } from '../../core/src/brew/spread.ts';
import { cupOf } from '../../core/src/brew/summarise.ts';
import { surfaceLoss } from '../../core/src/brew/surface.ts';
import { cutTable, tableOf } from '../../core/src/grind/index.ts';
import { kelvin, vapourPressure } from '../../core/src/units/index.ts';
import demo from '../../examples/demo-campaign.json' with { type: 'json' };
import drainRun from '../../reference/drain-run/run.json' with { type: 'json' };
import immersion from '../../reference/liang-2021/immersion.json' with { type: 'json' };
import suspension from '../../reference/moroney-2016/suspension.json' with { type: 'json' };
import mug from '../../reference/open-mug/mug.json' with { type: 'json' };

/** Evaporation heat of water near 90 °C [J/kg] (IAPWS, as in the engine's notes). */
const EVAPORATION = 2.28e6;

type Documents = Extract<ReturnType<typeof checkArchive>, { ok: true }>['value']['documents'];

function documentsOf(archive: unknown): Documents {
  const checked = checkArchive(archive);
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join(' '));
  return checked.value.documents;
}

const DEMO = documentsOf(demo);
const IMMERSION = documentsOf(immersion);

/** A plan of an archive with all it points to. */
function bundleFrom(documents: Documents, name: string): BrewBundle {
  const plan = documents.find((d) => d.kind === 'plan' && d.name === name);
  if (plan?.kind !== 'plan') throw new Error(`no plan called ${name}`);
  const bundle = bundlePlan(plan, (id) => documents.find((d) => d.id === id));
  if (!bundle.ok) throw new Error(bundle.problems[0]!.sentence);
  return structuredClone(bundle.value);
}

/** Two log-normal modes: fines of 40 µm in the share below 100 µm, the rest so that the mean by volume is right. */
const twoModes = (d43_um: number, below: number) => {
  const mean = (median: number, gsd: number) => median * Math.exp(Math.log(gsd) ** 2 / 2);
  const coarse = (d43_um - below * mean(40, 1.6)) / (1 - below);
  return [
    { share: 1 - below, median_um: coarse / mean(1, 1.5), gsd: 1.5 },
    { share: below, median_um: 40, gsd: 1.6 },
  ];
};

type Grind = (typeof suspension.grinds)[number];

/** Grounds of a grind in a stirred bath, wetted through, at the temperature of the experiment. */
function stirredBath(grind: Grind, draw: Draw, until: number): BrewCase {
  const table = tableOf({ by: 'modes', modes: twoModes(grind.d43_um, grind.below_100um) });
  const brewed = caseOf(bundleFrom(IMMERSION, '15 : 1 at 92 °C'), draw, 'draft');
  const blank = blankCase();
  const dose = suspension.dose_g / 1e3;
  const vessel = { r0: 0.05, slope: 0, height: 0.5 };
  const gaps =
    (dose / brewed.grains.envelopeDensity / (1 - blank.bed.porosity)) * blank.bed.porosity * LIQUID_DENSITY;
  return {
    ...blank,
    vessel,
    dose,
    dryMass: dose,
    sizes: cutTable(table, 8, draw.parameters.finesLimit),
    grains: { ...brewed.grains, temperature: kelvin(suspension.temperature_C) },
    outletOpens: Number.POSITIVE_INFINITY,
    actions: [{ start: 0, end: 1e6, depthShare: 1, rate: 5 }],
    initial: {
      saturation: 1,
      absorbed: 1,
      head: (suspension.water_mL / 1e6) * LIQUID_DENSITY - gaps,
      temperature: kelvin(suspension.temperature_C),
    },
    solutes: brewed.solutes.map((solute) => ({
      ...solute,
      extractable: (solute.extractable / brewed.dose) * dose,
    })),
    horizon: until,
    numerics: {
      ...brewed.numerics,
      cells: 2,
      bins: 16,
      tolerance: 0.01,
      longestStep: until / 100,
      firstStep: 0.02,
    },
  };
}

/** Long after the slowest grain is done [s]. */
const AT_REST = 3_000;

/** Share of its final release that a grind has given at its moments: of the experiment, as its constants say, and of the engine. */
export function releaseCurve(
  grind: Grind,
  draw: Draw,
): { moments: number[]; published: number[]; engine: number[] } {
  const released = (until: number) =>
    runCase(stirredBath(grind, draw, until)).state.now.released.reduce((sum, mass) => sum + mass, 0);
  const final = released(AT_REST);
  return {
    moments: grind.moments_s,
    published: grind.moments_s.map(
      (t) =>
        1 -
        (1 - grind.inside_share) * Math.exp(-t / grind.fast_s) -
        grind.inside_share * Math.exp(-t / grind.slow_s),
    ),
    engine: grind.moments_s.map((t) => released(t) / final),
  };
}

/** Yield of half an hour of immersion, share of the dose that left the grains. */
export function immersionYield(ratio: number, temperature_C: number, draw: Draw): number {
  const bundle = bundleFrom(IMMERSION, `${ratio} : 1 at ${temperature_C} °C`);
  const c = caseOf(bundle, draw, 'draft');
  return cupOf(bundle, c, runCase(c)).total_yield_pct / 100;
}

/** The timed run: when the drip is over [s], and what the bed then holds over the dose. */
export function timedRun(draw: Draw): { over_s: number; held_g_g: number } {
  const bundle = bundleFrom(DEMO, 'Five pours in the cone');
  const [first] = bundle.plan.pours;
  const pour = {
    ...first!,
    rate: { by: 'flow' as const, flow_g_s: drainRun.flow_g_s },
    height_cm: drainRun.height_cm,
    kettle_temperature_C: 93,
  };
  const [{ grinder_id, setting_id }] = bundle.plan.grind as [BrewBundle['plan']['grind'][number]];
  const grinder = bundle.grinders[grinder_id]!;
  const setting = grinder.settings.find((s) => s.id === setting_id)!;
  Object.assign(bundle.plan, {
    dose_g: drainRun.dose_g,
    lift_s: null,
    actions: [],
    kettles: [],
    chill: null,
    bypass: null,
    rinse: { water_g: 200, temperature_C: 93 },
    grind: [{ grinder_id, setting_id, share: 1 }],
    pours: [
      { ...pour, id: 'wet', start_s: 0, water_g: drainRun.wetting_g },
      { ...pour, id: 'rest', start_s: drainRun.wetting_s, water_g: drainRun.water_g - drainRun.wetting_g },
    ],
  });
  bundle.setup.dripper = {
    ...bundle.setup.dripper,
    shape: 'cone',
    bottom_diameter_mm: 18,
    rim_diameter_mm: 118,
    height_mm: 87,
  };
  setting.distribution = { by: 'modes', modes: sievedModes() };
  const c = caseOf(bundle, draw, 'standard');
  const cup = cupOf(bundle, c, runCase(c));
  return { over_s: cup.end_s, held_g_g: cup.held_g / drainRun.dose_g };
}

/** Modes of which the share told went through the sieve: 12 % fines, the rest with a spread of 1.45 (common practice). */
function sievedModes() {
  const { mesh_um, share } = drainRun.through_sieve;
  const below = (median_um: number) => {
    const table = tableOf({
      by: 'modes',
      modes: [
        { share: 0.88, median_um, gsd: 1.45 },
        { share: 0.12, median_um: 50, gsd: 1.6 },
      ],
    });
    return table.share.reduce((sum, x, k) => (table.diameter[k]! < mesh_um / 1e6 ? sum + x : sum), 0);
  };
  let low = 200;
  let high = 1_500;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (below(middle) > share) low = middle;
    else high = middle;
  }
  return [
    { share: 0.88, median_um: low, gsd: 1.45 },
    { share: 0.12, median_um: 50, gsd: 1.6 },
  ];
}

/** Heat that the open mug loses [W]. */
export function mugLoss(draw: Draw): number {
  const air = kelvin(mug.air_C);
  const surface = kelvin(mug.surface_C);
  const out = new Float64Array(2);
  surfaceLoss(surface, air, 101_325, vapourPressure(air, mug.humidity), mug.diameter_m, out);
  const flux = out[0]! * EVAPORATION + out[1]! * (surface - air);
  return draw.parameters.surfaceFactor * flux * (Math.PI / 4) * mug.diameter_m ** 2;
}

/** The demo's four pours left to drain: how long after the last pour the surface reaches the bed [s], and its cup. */
export function fourPours(draw: Draw): {
  after_last_s: number;
  strength_pct: number;
  yield_pct: number;
  held_g_g: number;
} {
  const bundle = bundleFrom(DEMO, 'Four pours, cool then hot');
  bundle.plan.lift_s = null;
  const c = caseOf(bundle, draw, 'standard');
  const cup = cupOf(bundle, c, runCase(c));
  const last = Math.max(...c.pours.map((pour) => pour.end));
  return {
    after_last_s: (cup.drawdown_s ?? Number.NaN) - last,
    strength_pct: cup.strength_pct,
    yield_pct: cup.yield_pct,
    held_g_g: cup.held_g / bundle.plan.dose_g,
  };
}

/** A plain brew in the cone, 15 g and 250 g at 92 °C: cup, total time and grams of caffeine per litre. */
export function plainBrew(draw: Draw): {
  strength_pct: number;
  yield_pct: number;
  end_s: number;
  caffeine_g_L: number;
} {
  const bundle = bundleFrom(DEMO, 'Five pours in the cone');
  const scale = 250 / bundle.plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
  for (const pour of bundle.plan.pours) {
    pour.water_g *= scale;
    pour.kettle_temperature_C = 92;
  }
  Object.assign(bundle.plan, { dose_g: 15, lift_s: null, bypass: null, kettles: [], chill: null });
  const c = caseOf(bundle, draw, 'standard');
  const cup = cupOf(bundle, c, runCase(c));
  const caffeine = cup.solutes.find((s) => s.key === 'caffeine')!.beverage_mg;
  return {
    strength_pct: cup.strength_pct,
    yield_pct: cup.yield_pct,
    end_s: cup.end_s,
    caffeine_g_L: caffeine / cup.beverage_g,
  };
}
