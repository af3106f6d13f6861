import type { BrewBundle, Serving } from '../documents/index.ts';
import { celsius, GRAM, kelvin, MILLIMETRE } from '../units/index.ts';
import type { Air } from './cooling.ts';
import { filled, letStand, liquidTemperature, makeCooling, type Standing } from './cooling.ts';
import { streamTemperature } from './jet.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import type { Parameters } from './parameters.ts';
import type { CupCourse, ServingCourse } from './result.ts';
import { SurfaceTable } from './surface-table.ts';
import { serverMake, vesselOf } from './vessel.ts';

/** Flow from the server into a cup [kg/s] and its fall [m] (common practice). */
const CUP_FLOW = 0.02;
const CUP_FALL = 0.05;
/** Longest course of a cup after it was poured [s]. */
const LONGEST_COURSE = 5_400;
/** Water below which there is nothing to serve [kg]. */
const LEAST_BREW = 1e-3;

/** What is in the server when the brew is done. */
export interface Brewed {
  /** [s] */
  time: number;
  /** [kg] */
  water: number;
  solids: number;
  /** Of liquid and server [°C]. */
  temperature: number;
}

/** The server between two cups. */
interface Source {
  state: Standing;
  solids: number;
}

/** What one cup was given. */
interface Portion {
  water: number;
  solids: number;
  /** As it leaves the server [°C]. */
  temperature: number;
}

/** What all cups share. */
interface Table {
  plan: Serving;
  cup: NonNullable<BrewBundle['setup']['cup']>;
  air: Air;
  p: Parameters;
  surface: SurfaceTable;
}

/**
 * From the end of the brew to cold cups: the server stands, cups are filled from it one after another (what is left goes on
 * cooling), each is carried to its guest and cools until it is cold or an hour and a half is over. Liquid and vessel have a
 * temperature each; the surface loses by evaporation, convection and radiation as an open hot surface does, wall and base to
 * air and table. Solids stay, so that what evaporates makes the cup stronger. Null without a cup or without a brew.
 */
export function serve(
  plan: Serving,
  setup: BrewBundle['setup'],
  air: Air,
  p: Parameters,
  brewed: Brewed,
): ServingCourse | null {
  const { cup } = setup;
  if (!cup || brewed.water < LEAST_BREW) return null;
  const make = serverMake(setup.server);
  const vessel = (water: number) => vesselOf(make, water, p.wallOutside, { lid: plan.lid, whole: true });
  const { time, water, temperature, solids } = brewed;
  const open = new SurfaceTable(air, vessel(water).diameter);
  const surface = new SurfaceTable(air, cup.inner_diameter_mm * MILLIMETRE);
  const table: Table = { plan, cup, air, p, surface };
  const source: Source = { state: filled(vessel(water), time, water, temperature, temperature), solids };
  const each = plan.cup_g === null ? Number.POSITIVE_INFINITY : plan.cup_g * GRAM;
  const cups: { course: CupCourse; last: Standing }[] = [];
  let next = time + plan.stands_s;
  let closure = 0;
  let server_C = Number.NaN;
  for (let i = 0; i < plan.cups; i++) {
    const before = source.state;
    const stood = letStand(makeCooling(vessel(before.water), air, open), before, next);
    closure = Math.max(closure, closureOf(before, stood));
    source.state = stood;
    if (i === 0) server_C = liquidTemperature(stood);
    const portion = pourOut(source, each, plan.cups - i);
    next += (portion.water + portion.solids) / CUP_FLOW;
    const made = coolCup(table, portion, next);
    closure = Math.max(closure, made.closure);
    cups.push(made);
  }
  return {
    hot_above_C: plan.hot_above_C,
    cold_below_C: plan.cold_below_C,
    server_C,
    rest_g: (source.state.water + source.solids) / GRAM,
    lost: sharesOf(cups.map((made) => made.last)),
    cups: cups.map((made) => made.course),
    closure,
  };
}

/** Takes a cup's worth out of the server: so much each, or an even share where there is not enough. */
function pourOut(source: Source, each: number, left: number): Portion {
  const { state, solids } = source;
  const share = Math.min(each / (state.water + solids), 1 / left);
  const portion = {
    water: share * state.water,
    solids: share * solids,
    temperature: liquidTemperature(state),
  };
  source.state = {
    ...state,
    water: state.water - portion.water,
    liquid: (1 - share) * state.liquid,
  };
  source.solids -= portion.solids;
  return portion;
}

/** A cup filled at `poured` [s] until it is cold. */
function coolCup(
  table: Table,
  portion: Portion,
  poured: number,
): { course: CupCourse; last: Standing; closure: number } {
  const { plan, cup, air, p } = table;
  const fall = streamTemperature(
    kelvin(portion.temperature),
    air.temperature,
    CUP_FLOW,
    CUP_FALL,
    LIQUID_HEAT_CAPACITY,
    p,
  );
  const vessel = vesselOf(cup, portion.water, p.wallOutside, { lid: false, whole: false });
  const cooling = makeCooling(vessel, air, table.surface);
  const empty_C = plan.cups_C ?? celsius(air.temperature);
  const states: Standing[] = [];
  const keep = (s: Standing): void => {
    if (states.at(-1)?.time !== s.time) states.push(s);
  };
  const start = filled(vessel, poured, portion.water, celsius(fall), empty_C);
  const served = letStand(cooling, start, poured + plan.carry_s, keep);
  const cold = (s: Standing): boolean => liquidTemperature(s) < plan.cold_below_C;
  const last = letStand(cooling, served, Math.max(served.time, poured + LONGEST_COURSE), keep, cold);
  return { course: courseOf(plan, portion, states, served), last, closure: closureOf(start, last) };
}

/** States of a cup as a result: columns in the units people read. */
function courseOf(plan: Serving, portion: Portion, states: readonly Standing[], served: Standing): CupCourse {
  const column = (of: (s: Standing) => number): Float64Array => Float64Array.from(states, of);
  const strength = (s: Standing): number => (portion.solids / (portion.solids + s.water)) * 100;
  const after = states.filter((s) => s.time >= served.time);
  return {
    beverage_g: (portion.water + portion.solids) / GRAM,
    poured_s: states[0]!.time,
    served_s: served.time,
    poured_C: liquidTemperature(states[0]!),
    served_C: liquidTemperature(served),
    hot_until_s: passes(after, plan.hot_above_C),
    warm_until_s: passes(after, plan.cold_below_C),
    served_strength_pct: strength(served),
    time_s: column((s) => s.time),
    temperature_C: column(liquidTemperature),
    evaporated_g: column((s) => (portion.water - s.water) / GRAM),
    strength_pct: column(strength),
  };
}

/** Moment from which the liquid stays below a temperature [s]: the first state's when it already is, null when it never is. */
function passes(states: readonly Standing[], limit_C: number): number | null {
  const last = states.findLastIndex((s) => liquidTemperature(s) >= limit_C);
  if (last < 0) return states[0]!.time;
  const next = states[last + 1];
  if (!next) return null;
  const from = states[last]!;
  const a = liquidTemperature(from);
  return from.time + ((next.time - from.time) * (a - limit_C)) / (a - liquidTemperature(next));
}

/** What is missing in the books between two states of one vessel, over what it held. */
function closureOf(from: Standing, to: Standing): number {
  const sum = (s: Standing): number => s.liquid + s.vessel + s.vapour + s.surface + s.wall + s.carried;
  return Math.abs(sum(to) - sum(from)) / Math.max(1, Math.abs(from.liquid));
}

/** Where the heat of all cups went, %. */
function sharesOf(ends: readonly Standing[]): ServingCourse['lost'] {
  const total = (key: 'vapour' | 'surface' | 'wall'): number => ends.reduce((sum, s) => sum + s[key], 0);
  const all = total('vapour') + total('surface') + total('wall');
  const share = (key: 'vapour' | 'surface' | 'wall'): number => (all > 0 ? (total(key) / all) * 100 : 0);
  return { evaporation_pct: share('vapour'), surface_pct: share('surface'), wall_pct: share('wall') };
}
