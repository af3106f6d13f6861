import { compileCase } from '../../brew/compile.ts';
import { fingerprint } from '../../brew/hash.ts';
import type { Resolution } from '../../brew/index.ts';
import { runCase } from '../../brew/run.ts';
import { cupOf } from '../../brew/summarise.ts';
import type { BrewBundle } from '../../documents/index.ts';
import { applyLearned } from './apply.ts';
import { type BrewPlace, valuesAt } from './layout.ts';
import { expectedOf, type Observations } from './observe.ts';

/** One trial ready to be computed. */
export interface Prepared {
  id: string;
  /** As brewed. */
  bundle: BrewBundle;
  observations: Observations;
  place: BrewPlace;
  /** Ids of the grinders in `place`. */
  grinderIds: readonly string[];
}

/** Trials that are the same brew as far as slopes are concerned. */
export interface Group {
  /** Places of its trials; the first stands for all. */
  members: readonly number[];
}

/** Doses and waters of one group differ by less than this. */
const ALIKE = 0.03;
/** Ages of one group differ by less than this [d]. */
const ALIKE_DAYS = 8;

/**
 * Gathers trials whose brews are so alike that the engine answers a change of its constants in the same way: one plan, setup and
 * grind, dose and water within 3 %. Their own level is computed for each.
 */
export function groupsOf(trials: readonly Prepared[]): Group[] {
  const groups: { key: string; members: number[] }[] = [];
  trials.forEach((trial, i) => {
    const key = likeness(trial);
    const group = groups.find((g) => g.key === key && alike(trials[g.members[0]!]!, trial));
    if (group) group.members.push(i);
    else groups.push({ key, members: [i] });
  });
  return groups;
}

/** Most groups that one group of a first look takes in. */
const FIRST_LOOK = 6;

/**
 * Larger groups for a first look, which only has to find the neighbourhood: brews in one setup with the same grinders, in order of
 * their water.
 */
export function roughGroups(trials: readonly Prepared[], groups: readonly Group[]): Group[] {
  const byKit = new Map<string, Group[]>();
  for (const group of groups) {
    const { place, grinderIds } = trials[group.members[0]!]!;
    const key = [place.setup, ...grinderIds].join(' ');
    byKit.set(key, [...(byKit.get(key) ?? []), group]);
  }
  const water = ({ members }: Group): number =>
    trials[members[0]!]!.bundle.plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
  const rough: Group[] = [];
  for (const list of byKit.values()) {
    const sorted = [...list].sort((a, b) => water(a) - water(b));
    for (let i = 0; i < sorted.length; i += FIRST_LOOK) {
      const part = sorted.slice(i, i + FIRST_LOOK);
      const leader = part[Math.floor(part.length / 2)]!;
      const rest = part.filter((group) => group !== leader);
      rough.push({ members: [leader, ...rest].flatMap(({ members }) => members) });
    }
  }
  return rough;
}

function likeness({ bundle, grinderIds }: Prepared): string {
  const { plan, setup, venue, grinders } = bundle;
  return fingerprint([
    plan.pours.map((pour) => [Math.round(pour.start_s), pour.rate.by, Math.round(pour.kettle_temperature_C)]),
    plan.grind,
    plan.actions,
    plan.lift_s === null ? null : Math.round(plan.lift_s),
    plan.bypass?.temperature_C ?? null,
    plan.outlet_opens_s,
    plan.rinse,
    setup,
    [venue.altitude_m, Math.round(venue.air_C / 3)],
    grinderIds.map((id) => grinders[id]!.settings),
  ]);
}

function alike(a: Prepared, b: Prepared): boolean {
  const near = (x: number, y: number): boolean => Math.abs(x / y - 1) <= ALIKE;
  const [p, q] = [a.bundle.plan, b.bundle.plan];
  return (
    near(p.dose_g, q.dose_g) &&
    p.pours.length === q.pours.length &&
    p.pours.every((pour, i) => near(pour.water_g, q.pours[i]!.water_g)) &&
    Math.abs(a.place.days - b.place.days) <= ALIKE_DAYS
  );
}

/** Results of the engine by what was asked, so that a fit that was stopped goes on where it was. */
export type Runs = Map<string, readonly number[]>;

/** A short name of what a fit asks the engine. */
const keyOf = (readers: readonly number[], resolution: Resolution, coordinates: Float64Array): string =>
  `${readers.join('+')} ${resolution} ${Array.from(coordinates).join(' ')}`;

/**
 * Runs the brew of the first of `readers` at some coordinates and reads the figures of all of them from it, one after another in
 * one array; NaN for a figure that this run does not have.
 */
export function askEngine(
  runs: Runs,
  trials: readonly Prepared[],
  readers: readonly number[],
  resolution: Resolution,
  coordinates: Float64Array,
): Float64Array {
  const key = keyOf(readers, resolution, coordinates);
  const known = runs.get(key);
  if (known) return Float64Array.from(known, (x) => (x === MISSING ? Number.NaN : x));
  const { bundle, grinderIds } = trials[readers[0]!]!;
  const applied = applyLearned(bundle, valuesAt(coordinates, grinderIds));
  const c = compileCase(applied.bundle, applied.parameters, resolution);
  const run = runCase(c);
  const cup = cupOf(applied.bundle, c, run);
  const trace = run.recorder.finish();
  const out = readers.flatMap((t) => Array.from(expectedOf(trials[t]!.observations, cup, trace)));
  runs.set(
    key,
    out.map((x) => (Number.isFinite(x) ? x : MISSING)),
  );
  return Float64Array.from(out, (x) => (Number.isFinite(x) ? x : Number.NaN));
}

/** Stands for a figure that does not exist; JSON has no NaN. */
const MISSING = -1e300;
