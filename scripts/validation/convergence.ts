/** How the engine's own error falls, and how far standard runs stay from reference runs over random plans. */
import { type BrewBundle, type Cup, defaultParameters, type Resolution } from '@pourline/core';
import fc from 'fast-check';
import { compileCase } from '../../core/src/brew/compile.ts';
import {
  coolingCurve,
  coolingVessel,
  type Drain,
  drainHead,
  drainingBed,
  outflowOf,
  releasedShare,
  SPHERE_COLUMN,
  sphereBath,
  sphereColumn,
} from '../../core/src/brew/reduced/index.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { closureOf, cupOf } from '../../core/src/brew/summarise.ts';
import { randomBundle, servableBundle } from '../../core/src/brew/testing/random-bundle.ts';

/** One row of a refinement: a step or a number of cells, what it gave, and the order seen between it and the row before. */
export interface Refinement {
  size: number;
  /** What the next refinement changes. */
  change: number;
  order: number | null;
}

/** A quantity at falling step or growing cell count. */
export interface ConvergenceTable {
  id: string;
  title: string;
  what: 'step' | 'cells';
  unit: string;
  rows: readonly Refinement[];
}

const DRAIN: Drain = { permeability: 2e-11, depth: 0.03, head: 0.04, temperature: 363.15 };

/** Value of a sampled curve at a moment, linear between records. */
function valueAt(time: Float64Array, values: Float64Array, at: number): number {
  const i = Math.max(
    1,
    time.findIndex((t) => t >= at - 1e-9),
  );
  const width = time[i]! - time[i - 1]!;
  return values[i - 1]! + ((values[i]! - values[i - 1]!) * (at - time[i - 1]!)) / width;
}

function cooled(step: number): number {
  const vessel = coolingVessel(step, 256);
  const { time_s, bed_middle_C } = runCase(vessel.case).recorder.finish();
  return valueAt(time_s, bed_middle_C, 128) - coolingCurve(vessel, 128);
}

function drained(step: number): number {
  const c = { ...drainingBed(DRAIN, step), horizon: 32 };
  const { time_s, head_mm } = runCase(c).recorder.finish();
  return valueAt(time_s, head_mm, 24) - drainHead(DRAIN, 24) * 1e3;
}

/** Concentration that leaves the sphere column after two pore volumes, over the start. */
function washed(step: number, cells: number, dispersivity: number): number {
  const column = sphereColumn({ ...SPHERE_COLUMN, poreVolumes: 3, step, cells, dispersivity });
  const out = outflowOf(runCase(column.case).recorder.finish(), column.rest);
  return valueAt(out.time, out.concentration, 24) / column.theory.start;
}

/** Share that spheres have given to a bath by τ = 0.25, with a step as a share of that time. */
function bathed(step: number): number {
  const c = sphereBath({ diameter: 1e-3, diffusivity: 1e-9, alpha: 1, tau: 0.25 }, 1 / step);
  return releasedShare(c, runCase(c));
}

/** What each refinement still changes: the distance to the next finer row. It falls by the order of the method. */
function table(
  id: string,
  title: string,
  what: 'step' | 'cells',
  unit: string,
  sizes: readonly number[],
  value: (size: number) => number,
): ConvergenceTable {
  const values = sizes.map(value);
  const changes = values.slice(1).map((x, i) => Math.abs(x - values[i]!));
  return { id, title, what, unit, rows: withOrders(sizes.slice(0, -1), changes) };
}

function withOrders(sizes: readonly number[], changes: readonly number[]): Refinement[] {
  return sizes.map((size, i) => ({
    size,
    change: changes[i]!,
    order:
      i === 0 ? null : Math.log(changes[i - 1]! / changes[i]!) / Math.abs(Math.log(sizes[i - 1]! / size)),
  }));
}

/** Order in time on smooth stretches and order in space. A few seconds. */
export function convergenceTables(): ConvergenceTable[] {
  return [
    table('heat', 'temperature of a cooling vessel after 128 s', 'step', 'K', [64, 32, 16, 8], cooled),
    table(
      'liquid',
      'head of a draining bed after 24 s',
      'step',
      'mm',
      [1, 0.5, 0.25, 0.125, 0.0625],
      drained,
    ),
    table(
      'solutes',
      'outflow of the sphere column after two pore volumes',
      'step',
      'share of the start',
      [1, 0.5, 0.25, 0.125, 0.0625],
      (step) => washed(step, 40, 1.2e-3),
    ),
    table(
      'release',
      'share that leaves spheres in a bath by τ = 0.25',
      'step',
      'share',
      [1 / 16, 1 / 32, 1 / 64, 1 / 128, 1 / 256],
      bathed,
    ),
    table(
      'space',
      'outflow of the sphere column after two pore volumes',
      'cells',
      'share of the start',
      [13, 26, 52, 104],
      (cells) => washed(0.125, cells, 2.4e-3),
    ),
  ];
}

/** A plan's distance between standard and reference. */
export interface Distance {
  /** What the plan is like, in a few words. */
  plan: string;
  /** What the reference run dripped into the server, bypass water left out [g]. */
  cup_g: number;
  beverage_pct: number;
  strength_pct: number;
  yield_pct: number;
  temperature_K: number;
}

/** Closures of a standard run. */
export interface Closures {
  water: number;
  solutes: number;
  enthalpy: number;
}

/** Standard against reference over random plans: those one would serve, or anything a plan may say. */
export interface Sample {
  plans: number;
  seed: number;
  distances: readonly Distance[];
  closures: readonly Closures[];
}

const SEED = 20_261_125;

/** Runs `plans` random plans in both resolutions; draws out progress through `tick`. */
export function sampleResolutions(
  of: 'servable' | 'any',
  plans: number,
  tick: (done: number) => void = () => {},
): Sample {
  const bundles = fc.sample(of === 'servable' ? servableBundle : randomBundle, {
    numRuns: plans,
    seed: SEED,
  });
  const distances: Distance[] = [];
  const closures: Closures[] = [];
  bundles.forEach((bundle, i) => {
    const standard = run(bundle, 'standard');
    const reference = run(bundle, 'reference');
    distances.push({
      plan: inWords(i, bundle),
      cup_g: reference.cup.beverage_g - (bundle.plan.bypass?.water_g ?? 0),
      ...distanceOf(standard.cup, reference.cup),
    });
    closures.push(standard.closures);
    tick(i + 1);
  });
  return { plans, seed: SEED, distances, closures };
}

/** One run without the error estimate that `simulate` adds. */
function run(bundle: BrewBundle, resolution: Resolution): { cup: Cup; closures: Closures } {
  const c = compileCase(bundle, defaultParameters(), resolution);
  const done = runCase(c);
  const closure = closureOf(c, done);
  return {
    cup: cupOf(bundle, c, done),
    closures: {
      water: closure.water,
      solutes: Math.max(...closure.solutes.map((s) => s.relative)),
      enthalpy: closure.enthalpy,
    },
  };
}

function distanceOf(a: Cup, b: Cup): Omit<Distance, 'plan' | 'cup_g'> {
  const relative = (x: number, y: number) => (y === 0 ? Math.abs(x) : Math.abs(x / y - 1)) * 100;
  const apart = (x: number, y: number) => (Number.isFinite(x) && Number.isFinite(y) ? Math.abs(x - y) : 0);
  return {
    beverage_pct: relative(a.beverage_g, b.beverage_g),
    strength_pct: relative(a.strength_pct, b.strength_pct),
    yield_pct: relative(a.yield_pct, b.yield_pct),
    temperature_K: Math.max(apart(a.peak_bed_C, b.peak_bed_C), apart(a.server_C, b.server_C)),
  };
}

function inWords(index: number, { plan, setup }: BrewBundle): string {
  const water = plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
  const temperatures = plan.pours.map((pour) => pour.kettle_temperature_C);
  const ends = [
    plan.lift_s === null ? '' : `, lifted at ${plan.lift_s.toFixed(0)} s`,
    (plan.outlet_opens_s ?? 0) < 0.5 ? '' : `, closed until ${plan.outlet_opens_s!.toFixed(0)} s`,
  ];
  return `plan ${index + 1}: ${setup.dripper.shape}, ${plan.dose_g.toFixed(1)} g, ${plan.pours.length} pours of ${water.toFixed(0)} g in all, ${Math.min(...temperatures).toFixed(0)}–${Math.max(...temperatures).toFixed(0)} °C${ends.join('')}`;
}

/** Median, 95th percentile and worst of a column of figures. */
export function spread(values: readonly number[]): { median: number; high: number; worst: number } {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return { median: at(0.5), high: at(0.95), worst: sorted.at(-1)! };
}
