import {
  type Air,
  filled,
  letStand,
  liquidTemperature,
  makeCooling,
  type Standing,
} from '../../brew/cooling.ts';
import { LIQUID_HEAT_CAPACITY } from '../../brew/liquid.ts';
import { defaultParameters } from '../../brew/parameters.ts';
import { vesselOf } from '../../brew/vessel.ts';
import type { TastingWindow } from '../../documents/kinds/tasting.ts';
import { GRAM, kelvin, standardPressure, vapourPressure } from '../../units/index.ts';
import type { OpenWindow, TasterFlight } from './api.ts';
import type { SessionDesign } from './plan-types.ts';

/** A temperature read off a cup. */
export interface CupReading {
  /** [s] after pouring. */
  time: number;
  temperature_C: number;
}

/** Temperature of a cup over time. */
export interface CupCooling {
  /** [s] after pouring, rising. */
  time: number[];
  temperature_C: number[];
}

/** Longest course that is followed [s]. */
const LONGEST = 5_400;

/**
 * How a cup of the session cools after pouring. After each reading the course goes on from what was read; the vessel is moved by as much as
 * the liquid. One course for all cups of a flight on purpose: a course for each cup could tell which hold the same.
 */
export function cupCooling(
  cooling: SessionDesign['cooling'],
  readings: readonly CupReading[] = [],
): CupCooling {
  const p = defaultParameters();
  const temperature = kelvin(cooling.air_C);
  const air: Air = {
    temperature,
    pressure: standardPressure(cooling.altitude_m),
    vapourPressure: vapourPressure(temperature, cooling.humidity_pct / 100),
    surfaceFactor: p.surfaceFactor,
  };
  const water = cooling.beverage_g * GRAM;
  const vessel = vesselOf(cooling.cup, water, p.wallOutside, { lid: false, whole: false });
  const model = makeCooling(vessel, air);
  const course: CupCooling = { time: [], temperature_C: [] };
  const keep = (s: Standing): void => {
    course.time.push(s.time);
    course.temperature_C.push(liquidTemperature(s));
  };
  let state = filled(vessel, 0, water, cooling.poured_C, cooling.cup_C ?? cooling.air_C);
  const sorted = [...readings].filter((r) => r.time >= 0 && r.time < LONGEST).sort((a, b) => a.time - b.time);
  for (const { time, temperature_C } of sorted) {
    if (time > state.time) state = letStand(model, state, time, keep);
    const off = temperature_C - liquidTemperature(state);
    state = {
      ...state,
      liquid: LIQUID_HEAT_CAPACITY * state.water * temperature_C,
      vessel: state.vessel + vessel.heatCapacity * off,
    };
  }
  letStand(model, state, LONGEST, keep);
  return course;
}

/** Courses found lately, by what they follow from: a table of eight asks for the same few again and again. */
const kept = new Map<string, CupCooling>();
const KEPT = 64;

function keptCooling(cooling: SessionDesign['cooling'], readings: readonly CupReading[]): CupCooling {
  const key = JSON.stringify([cooling, readings]);
  const course = kept.get(key) ?? cupCooling(cooling, readings);
  kept.delete(key);
  kept.set(key, course);
  if (kept.size > KEPT) kept.delete(kept.keys().next().value as string);
  return course;
}

/** Last moment [s] at which a cup is at a temperature or above it; 0 when it never is, null when it still is at the end. */
export function lastAt({ time, temperature_C }: CupCooling, limit_C: number): number | null {
  const last = temperature_C.findLastIndex((t) => t >= limit_C);
  if (last < 0) return 0;
  const [from, to] = [temperature_C[last]!, temperature_C[last + 1]];
  if (to === undefined) return null;
  const start = time[last]!;
  return from === to ? start : start + ((time[last + 1]! - start) * (from - limit_C)) / (from - to);
}

/** When a window opens and closes, on the clock of `poured_at` [ms]; both null when the cup is never in it. */
export function openWindow(course: CupCooling, window: TastingWindow, poured_at: number): OpenWindow {
  const opens = lastAt(course, window.from_C);
  const closes = lastAt(course, window.to_C);
  const at = (seconds: number) => Math.round(poured_at + 1000 * seconds);
  if (opens === null || closes === 0) return { window_id: window.id, opens_at: null, closes_at: null };
  return { window_id: window.id, opens_at: at(opens), closes_at: closes === null ? null : at(closes) };
}

/** A flight with its windows. */
export function flightWindows(
  design: SessionDesign,
  flight: number,
  poured_at: number | null,
  measured: readonly { at: number; temperature_C: number }[],
): TasterFlight {
  if (poured_at === null || design.windows.length === 0) return { flight, poured_at, windows: [] };
  const readings = measured.map(({ at, temperature_C }) => ({
    time: (at - poured_at) / 1000,
    temperature_C,
  }));
  const course = keptCooling(design.cooling, readings);
  return { flight, poured_at, windows: design.windows.map((w) => openWindow(course, w, poured_at)) };
}
