import { ZERO_CELSIUS } from '../units/index.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import { SurfaceTable } from './surface-table.ts';
import type { Vessel } from './vessel.ts';

/** The air of a place. */
export interface Air {
  /** [K] */
  temperature: number;
  /** [Pa] */
  pressure: number;
  /** Of water vapour in it [Pa]. */
  vapourPressure: number;
  /** Share of the open-surface correlation that is taken. */
  surfaceFactor: number;
}

/** Liquid and vessel at a moment, and what has left them since the start. Temperatures in °C. */
export interface Standing {
  /** [s] */
  time: number;
  /** Water in the liquid [kg]. */
  water: number;
  /** Enthalpy of liquid and vessel over 0 °C [J]. */
  liquid: number;
  vessel: number;
  /** Latent heat of what evaporated, heat by convection and radiation of the surface or lid, heat through the wall [J]. */
  vapour: number;
  surface: number;
  wall: number;
  /** Enthalpy over 0 °C that evaporated water had as liquid: it left, but cooled nothing [J]. */
  carried: number;
}

export const liquidTemperature = (s: Standing): number => s.liquid / (LIQUID_HEAT_CAPACITY * s.water);

/** A vessel just filled: liquid [kg], [°C] in a vessel [°C]. */
export const filled = (
  v: Vessel,
  time: number,
  water: number,
  liquid_C: number,
  vessel_C: number,
): Standing => ({
  time,
  water,
  liquid: LIQUID_HEAT_CAPACITY * water * liquid_C,
  vessel: v.heatCapacity * vessel_C,
  vapour: 0,
  surface: 0,
  wall: 0,
  carried: 0,
});

/** Method of Rosenbrock type with this coefficient: second order, L-stable. */
const GAMMA = 1 - Math.SQRT1_2;
/** Change of temperature that the step's own estimate of its error may reach [K]; the result is far better. */
const TOLERANCE = 0.02;
const FIRST_STEP = 0.25;
const LONGEST_STEP = 30;
/** Water that never evaporates, so that a dry vessel has a temperature [kg]. */
const LEAST_WATER = 1e-5;

/** Rates at one state, in the order of {@link Standing} after time. */
interface Rates {
  water: number;
  liquid: number;
  vessel: number;
  vapour: number;
  surface: number;
  wall: number;
  carried: number;
}

/** What cools a vessel, with room to work in. */
export interface Cooling {
  vessel: Vessel;
  air: Air;
  /** Losses of the open surface; null when there is a lid or no loss. */
  surface: SurfaceTable | null;
  loss: Float64Array;
}

/** @param surface a table of the same width in the same air, when there is one already */
export function makeCooling(vessel: Vessel, air: Air, surface?: SurfaceTable): Cooling {
  const open = vessel.lid === null && air.surfaceFactor > 0;
  return {
    vessel,
    air,
    surface: open ? (surface ?? new SurfaceTable(air, vessel.diameter)) : null,
    loss: new Float64Array(3),
  };
}

/**
 * d/dt of everything. The liquid loses latent heat and the enthalpy of what evaporates, convection and radiation from its surface
 * ({@link SurfaceTable}), and heat to the vessel; the vessel loses to air and table. Sums to zero but for what is lost.
 */
function ratesAt({ vessel, air, surface: table, loss }: Cooling, s: Standing, out: Rates): void {
  const T = liquidTemperature(s);
  const around = air.temperature - ZERO_CELSIUS;
  const wallT = vessel.heatCapacity > 0 ? s.vessel / vessel.heatCapacity : T;
  loss.fill(0);
  if (vessel.lid !== null) loss[2] = vessel.lid * (T - around);
  else if (table) {
    table.at(T, loss);
    if (s.water <= LEAST_WATER) loss[0] = loss[1] = 0;
  }
  const [evaporation = 0, vapour = 0, surface = 0] = loss;
  const inward = vessel.heatCapacity > 0 ? vessel.contact * (T - wallT) : vessel.outside * (T - around);
  const outward = vessel.outside * (wallT - around);
  out.water = -evaporation;
  out.carried = evaporation * LIQUID_HEAT_CAPACITY * T;
  out.liquid = -vapour - out.carried - surface - inward;
  out.vessel = vessel.heatCapacity > 0 ? inward - outward : 0;
  out.vapour = vapour;
  out.surface = surface;
  out.wall = outward;
}

const noRates = (): Rates => ({ water: 0, liquid: 0, vessel: 0, vapour: 0, surface: 0, wall: 0, carried: 0 });

/** Slopes of the losses by the enthalpies of liquid and vessel [1/s], taken as they were over the last step. */
interface Slopes {
  vapour: number;
  surface: number;
}

/**
 * Lets a vessel stand until `until` [s], or until `stop` says so, and gives every state on the way (the first included) to
 * `visit`. ROS2 (Verwer et al. 1999, from memory): second order for any approximate Jacobian, L-stable for a thin cup; heat
 * that leaves is integrated with the same stages, so that the books close to rounding. Returns the last state.
 */
export function letStand(
  cooling: Cooling,
  from: Standing,
  until: number,
  visit: (s: Standing) => void = () => {},
  stop: (s: Standing) => boolean = () => false,
): Standing {
  let state = from;
  let step = FIRST_STEP;
  const slopes: Slopes = { vapour: 0, surface: 0 };
  const first = noRates();
  ratesAt(cooling, state, first);
  visit(state);
  while (state.time < until && !stop(state)) {
    const left = until - state.time;
    const dt = left <= step * 1.001 ? left : Math.min(step, left / 2);
    const tried = rosenbrock(cooling, state, first, slopes, dt);
    if (tried.error > 2 * TOLERANCE && dt > 1e-3) {
      step = dt / 2;
      continue;
    }
    step = Math.min(LONGEST_STEP, dt * Math.min(2, 0.9 * Math.sqrt(TOLERANCE / Math.max(1e-9, tried.error))));
    const before = { T: liquidTemperature(state), vapour: first.vapour, surface: first.surface };
    state = dt === left ? { ...tried.state, time: until } : tried.state;
    ratesAt(cooling, state, first);
    learnSlopes(slopes, before, state, first);
    visit(state);
  }
  return state;
}

/** Secant slopes of the surface's losses over the last step, by the liquid's enthalpy; kept when it hardly moved. */
function learnSlopes(
  slopes: Slopes,
  before: { T: number; vapour: number; surface: number },
  s: Standing,
  now: Rates,
): void {
  const change = liquidTemperature(s) - before.T;
  if (Math.abs(change) < 1e-3) return;
  const each = LIQUID_HEAT_CAPACITY * s.water;
  slopes.vapour = Math.max(0, (now.vapour - before.vapour) / change) / each;
  slopes.surface = Math.max(0, (now.surface - before.surface) / change) / each;
}

/** One step of ROS2 and the estimate of its error [K]. */
function rosenbrock(
  cooling: Cooling,
  s: Standing,
  f1: Rates,
  slopes: Slopes,
  dt: number,
): { state: Standing; error: number } {
  const k1 = solveStage(cooling, s, f1, slopes, dt);
  const middle = moved(s, dt, k1, dt);
  const f2 = noRates();
  ratesAt(cooling, middle, f2);
  for (const key of RATE_KEYS) f2[key] -= 2 * k1[key];
  const k2 = solveStage(cooling, s, f2, slopes, dt);
  const both = noRates();
  for (const key of RATE_KEYS) both[key] = 1.5 * k1[key] + 0.5 * k2[key];
  const state = moved(s, dt, both, dt);
  const error = Math.abs((dt / 2) * (k1.liquid + k2.liquid)) / (LIQUID_HEAT_CAPACITY * s.water);
  return { state, error };
}

const RATE_KEYS = ['water', 'liquid', 'vessel', 'vapour', 'surface', 'wall', 'carried'] as const;

const moved = (s: Standing, dt: number, k: Rates, by: number): Standing => ({
  time: s.time + dt,
  water: Math.max(LEAST_WATER / 2, s.water + by * k.water),
  liquid: s.liquid + by * k.liquid,
  vessel: s.vessel + by * k.vessel,
  vapour: s.vapour + by * k.vapour,
  surface: s.surface + by * k.surface,
  wall: s.wall + by * k.wall,
  carried: s.carried + by * k.carried,
});

/** (I − γ dt A) k = f with A the Jacobian of liquid and vessel; the heat that left follows from the same k. */
function solveStage({ vessel }: Cooling, s: Standing, f: Rates, slopes: Slopes, dt: number): Rates {
  const g = GAMMA * dt;
  const liquidHeld = LIQUID_HEAT_CAPACITY * s.water;
  const lone = vessel.heatCapacity <= 0;
  const toVessel = (lone ? 0 : vessel.contact) / liquidHeld;
  const back = lone ? 0 : vessel.contact / vessel.heatCapacity;
  const out = lone ? 0 : vessel.outside / vessel.heatCapacity;
  const straight = lone ? vessel.outside / liquidHeld : 0;
  const a = 1 + g * (toVessel + straight + slopes.vapour + slopes.surface);
  const d = 1 + g * (back + out);
  const determinant = a * d - g * g * back * toVessel;
  const liquid = (d * f.liquid + g * back * f.vessel) / determinant;
  const held = (a * f.vessel + g * toVessel * f.liquid) / determinant;
  return {
    water: f.water,
    liquid,
    vessel: held,
    vapour: f.vapour + g * slopes.vapour * liquid,
    surface: f.surface + g * slopes.surface * liquid,
    wall: f.wall + g * (out * held + straight * liquid),
    carried: f.carried,
  };
}
