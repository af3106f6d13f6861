import { ZERO_CELSIUS } from '../units/index.ts';
import { setExchange } from './agitation.ts';
import { type Amounts, LEDGER } from './amounts.ts';
import { type BrewCase, streamAt } from './case.ts';
import { type FlowInput, stepFlow } from './flow.ts';
import { type HeatInput, stepHeat } from './heat.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import { activeAction, activePour } from './schedule.ts';
import { stepSolutes, stepTags } from './solute-step.ts';
import type { State } from './state.ts';
import { releaseGas, setSurface } from './surroundings.ts';

/**
 * The two-stage, L-stable, second-order diagonally implicit method (Alexander 1977, from memory): both stages are
 * implicit Euler steps of γ·dt, the second from the start carried on along the first one's slope. γ = 1 − 1/√2.
 */
const GAMMA = 1 - Math.SQRT1_2;
/** How far along the slope of the first stage the second one starts, in units of its change. */
const REACH = (1 - GAMMA) / GAMMA;
/**
 * Weights of the difference to the third-order quadrature through the slopes at 0, γ and 1: the error of a step.
 * b₀ = 1 − b₁ − b₂, b₁ = 1/(6 γ (1−γ)), b₂ = (⅓ − γ/2)/(1−γ), less the method's own 0, 1−γ, γ.
 */
const B1 = 1 / (6 * GAMMA * (1 - GAMMA));
const B2 = (1 / 3 - GAMMA / 2) / (1 - GAMMA);
const ERROR_WEIGHTS = [1 - B1 - B2, B1 - (1 - GAMMA), B2 - GAMMA] as const;

/** Share of a cell's water that counts as a whole error at tolerance 1. */
const WATER_SCALE = 0.1;
/**
 * How much more of it while nothing has dripped yet: where a front stands within its cell moves no figure of the cup, and
 * what a step mistakes there is mended before the bed lets anything through.
 */
const FILLING = 10;
/** Temperature step that counts as a whole error at tolerance 1 [K]. */
const HEAT_SCALE = 40;
/** Strength step that counts as one [kg per kg]. */
const SOLIDS_SCALE = 0.3;
/** A node that is to lose all but this within a step has no ratio of solutes to go by [kg]. */
const CRUMB = 1e-12;

/** What happens outside during a step, and what the last steps have shown. */
export interface Stepper {
  readonly flow: FlowInput;
  readonly heat: HeatInput;
  /** Slopes of the watched amounts at the end of the last step [1/s]: water, heat and solids of each node; water served. */
  readonly lastSlope: Float64Array;
  /** False after an event: slopes no longer hold. */
  smooth: boolean;
}

export function stepperOf(s: State): Stepper {
  return {
    flow: { dt: 0, inflow: 0, evaporated: 0, outletOpen: true },
    heat: { dt: 0, poured: 0, pouredTemperature: 0, surface: 0 },
    lastSlope: new Float64Array(3 * s.nodes + 1),
    smooth: false,
  };
}

/** Forgets slopes: something has started or stopped. */
export function breakOff(s: State, stepper: Stepper): void {
  stepper.smooth = false;
  s.slope.all.fill(0);
}

/** Outcome of one try: done, with the estimated error over what is allowed; or a step that must be shorter. */
export type Try = { done: boolean; error: number };
const outcome: Try = { done: false, error: 0 };

/**
 * Tries one second-order step of `dt` from the amounts now. On success they stand at `time + dt`; otherwise they are as
 * they were. What a pour, hand or outlet does must not change within the step.
 */
export function tryStep(c: BrewCase, s: State, stepper: Stepper, time: number, dt: number): Try {
  const { begin, middle, now } = s;
  begin.all.set(now.all);
  s.levelsBegin.all.set(s.levels.all);
  outcome.done = false;
  expect(s, s.levelsBegin.all, s.slope.all, GAMMA * dt);
  if (!stage(c, s, stepper, begin, time, GAMMA * dt, GAMMA * dt)) return giveUp(s);
  carryOn(begin.all, now.all, middle.all, REACH);
  for (let i = 0; i < s.nodes; i++) if (middle.water[i]! < CRUMB && begin.water[i]! > 0) return giveUp(s);
  s.levelsMiddle.all.set(s.levels.all);
  carryOn(s.levelsBegin.all, s.levels.all, s.guess.all, 1 / GAMMA);
  clip(s.guess.all);
  if (!stage(c, s, stepper, middle, time, dt, GAMMA * dt)) return giveUp(s);
  outcome.error = errorOf(c, s, stepper, dt) / c.numerics.tolerance;
  outcome.done = true;
  return outcome;
}

/** Takes what {@link tryStep} did: slopes are kept for the next step. */
export function accept(s: State, stepper: Stepper, dt: number): void {
  const { all: slope } = s.slope;
  const { all: levels } = s.levels;
  const { all: before } = s.levelsMiddle;
  const per = 1 / ((1 - GAMMA) * dt);
  for (let k = 0; k < slope.length; k++) slope[k] = (levels[k]! - before[k]!) * per;
  keepSlopes(s, stepper, s.middle, GAMMA * dt);
  stepper.smooth = true;
}

/** Takes back what {@link tryStep} did. */
export function reject(s: State): void {
  s.now.all.set(s.begin.all);
  s.levels.all.set(s.levelsBegin.all);
}

/** One implicit Euler step, for where amounts end within a step; returns false when it must be shorter. */
export function eulerStep(c: BrewCase, s: State, stepper: Stepper, time: number, dt: number): boolean {
  s.begin.all.set(s.now.all);
  s.levelsBegin.all.set(s.levels.all);
  expect(s, s.levelsBegin.all, s.slope.all, 0);
  if (!stage(c, s, stepper, s.begin, time, dt, dt)) {
    reject(s);
    return false;
  }
  breakOff(s, stepper);
  return true;
}

function giveUp(s: State): Try {
  reject(s);
  return outcome;
}

/** Levels expected `ahead` seconds on. */
function expect(s: State, from: Float64Array, slope: Float64Array, ahead: number): void {
  const { all: guess } = s.guess;
  for (let k = 0; k < guess.length; k++) guess[k] = from[k]! + ahead * slope[k]!;
  clip(guess);
}

/** What lies `times` as far from `from` as `to` does. */
function carryOn(from: Float64Array, to: Float64Array, out: Float64Array, times: number): void {
  for (let k = 0; k < out.length; k++) {
    const start = from[k]!;
    out[k] = start + times * (to[k]! - start);
  }
}

/** Keeps expected levels within what they can be. */
function clip(guess: Float64Array): void {
  for (let k = 0; k < guess.length; k++) if (guess[k]! < 0) guess[k] = 0;
}

/** One implicit Euler stage of length `h` from the amounts `from`, ending `until` seconds after the start of the step. */
function stage(
  c: BrewCase,
  s: State,
  stepper: Stepper,
  from: Amounts,
  time: number,
  until: number,
  h: number,
): boolean {
  const { flow, heat } = stepper;
  const pour = activePour(c, time);
  flow.dt = h;
  flow.inflow = pour >= 0 ? c.pours[pour]!.flow : 0;
  flow.outletOpen = time >= c.outletOpens;
  heat.dt = h;
  heat.poured = flow.inflow * h;
  heat.pouredTemperature = pour >= 0 ? streamAt(c.pours[pour]!, time + until) - ZERO_CELSIUS : 0;
  setSurface(c, s, h, flow, heat);
  if (stepFlow(c, s, from, flow) < 0) return false;
  setExchange(c, s, h, pour, activeAction(c, time));
  stepHeat(c, s, from, heat);
  if (s.solutes > 0) stepSolutes(c, s, from, h);
  if (s.tags > 0) stepTags(s, from, heat.poured, pour);
  releaseGas(c, s, from, h);
  const { ledger } = s.now;
  ledger[LEDGER.poured]! += heat.poured;
  ledger[LEDGER.evaporated]! += flow.evaporated;
  s.levels.water.set(s.now.water);
  s.levels.gas.set(s.now.gas);
  s.levels.passed[0] = ledger[LEDGER.served]!;
  return true;
}

/** Estimated error of the step just done, as the largest over what tolerance 1 allows. */
function errorOf(c: BrewCase, s: State, stepper: Stepper, dt: number): number {
  const { nodes } = s;
  const { water: w0, heat: h0, dissolved: d0 } = s.begin;
  const { water: w1, heat: h1, dissolved: d1 } = s.middle;
  const { water: w2, heat: h2, dissolved: d2 } = s.now;
  const { lastSlope } = stepper;
  const cell = s.full[1]!;
  const filling = s.now.ledger[LEDGER.served]! > 0 ? 1 : FILLING;
  const perWater = 1 / (WATER_SCALE * filling * cell);
  const perHeat = 1 / (HEAT_SCALE * (LIQUID_HEAT_CAPACITY * cell + c.grains.heatCapacity * s.dry[1]!));
  const perSolids = 1 / (SOLIDS_SCALE * cell);
  const last = stepper.smooth ? ERROR_WEIGHTS[0] * dt : 0;
  const first = ERROR_WEIGHTS[1] / (1 - GAMMA);
  const second = ERROR_WEIGHTS[2] / GAMMA;
  const at = LEDGER.served;
  const served =
    first * (s.middle.ledger[at]! - s.begin.ledger[at]!) +
    second * (s.now.ledger[at]! - s.middle.ledger[at]!) +
    last * lastSlope[3 * nodes]!;
  let worst = Math.abs(served) * perWater;
  for (let i = 0; i < nodes; i++) {
    const water = first * (w1[i]! - w0[i]!) + second * (w2[i]! - w1[i]!) + last * lastSlope[3 * i]!;
    const heat = first * (h1[i]! - h0[i]!) + second * (h2[i]! - h1[i]!) + last * lastSlope[3 * i + 1]!;
    let solids = last * lastSlope[3 * i + 2]!;
    for (let at = i; at < d0.length; at += nodes)
      solids += first * (d1[at]! - d0[at]!) + second * (d2[at]! - d1[at]!);
    worst = Math.max(
      worst,
      Math.abs(water) * perWater,
      Math.abs(heat) * perHeat,
      Math.abs(solids) * perSolids,
    );
  }
  return worst;
}

/** Keeps the slopes of the watched amounts at the end of a step [1/s]. */
function keepSlopes(s: State, stepper: Stepper, from: Amounts, span: number): void {
  const { nodes } = s;
  const { water, heat, dissolved } = s.now;
  const { water: water1, heat: heat1, dissolved: dissolved1 } = from;
  const { lastSlope } = stepper;
  for (let i = 0; i < nodes; i++) {
    lastSlope[3 * i] = (water[i]! - water1[i]!) / span;
    lastSlope[3 * i + 1] = (heat[i]! - heat1[i]!) / span;
    let solids = 0;
    for (let at = i; at < dissolved.length; at += nodes) solids += dissolved[at]! - dissolved1[at]!;
    lastSlope[3 * i + 2] = solids / span;
  }
  lastSlope[3 * nodes] = (s.now.ledger[LEDGER.served]! - from.ledger[LEDGER.served]!) / span;
}
