import { ZERO_CELSIUS } from '../units/index.ts';
import { setExchange } from './agitation.ts';
import { closeBalances, inventory } from './balance.ts';
import type { BrewCase } from './case.ts';
import { type FlowInput, HEAD_SEEN, LIQUID_DENSITY, stepFlow } from './flow.ts';
import { type HeatInput, stepHeat } from './heat.ts';
import { Recorder } from './recorder.ts';
import { activeAction, activePour, eventTimes } from './schedule.ts';
import { stepSolutes, stepTags } from './solute-step.ts';
import { createState, type State } from './state.ts';
import { addBypass, releaseGas, setSurface, spill } from './surroundings.ts';
import { bookPourEnds, type Run, startRun, watch } from './watch.ts';

/** Smallest step before a run is given up [s]; reaching it is a broken contract, not bad data. */
const SHORTEST_STEP = 1e-9;
/** Newton iterations beyond which the step does not grow. */
const HARD_WORK = 8;
const GROWTH = 1.5;
/** Below this drip an open run without a lift ends [kg/s]. */
const DRIP_END = 1.5e-5;

/** Thrown when the solver cannot go on: the case breaks the engine's contract. */
export class SolverError extends Error {
  readonly code = 'solver_stuck';
  readonly time: number;
  constructor(time: number) {
    super(`runCase: no step is short enough to go on at ${time} s`);
    this.name = 'SolverError';
    this.time = time;
  }
}

/** What one run carries from step to step beside the state. */
interface Stepper {
  readonly flow: FlowInput;
  readonly heat: HeatInput;
  readonly loss: Float64Array;
  time: number;
  /** Longest step allowed by the steps before [s]. */
  grown: number;
}

/**
 * Runs a case from start to end: to the lift, the horizon, or until the bed has drained. Steps end exactly on every
 * event and on the grid of the trace. Throws {@link SolverError} only when the equations cannot be solved.
 */
export function runCase(c: BrewCase): Run {
  const s = createState(c);
  const recorder = new Recorder(c, s);
  const run = startRun(c, s, recorder);
  const initial = inventory(c, s);
  const { times, lastActivity } = eventTimes(c);
  const stepper: Stepper = {
    flow: { dt: 0, inflow: 0, evaporated: 0, outletOpen: true, passed: 0 },
    heat: { dt: 0, poured: 0, pouredTemperature: 0, surface: 0 },
    loss: new Float64Array(2),
    time: 0,
    grown: c.numerics.firstStep,
  };
  let next = 0;
  let output = 1;
  recorder.record(0, 0);
  while (next < times.length && times[next]! <= 0) next++;

  for (;;) {
    const grid = output * c.numerics.outputStep;
    const stop = Math.min(times[next] ?? c.horizon, grid, c.lift, c.horizon);
    const dt = advance(c, s, run, stepper, stop);
    const { time } = stepper;
    watch(c, s, run, time, dt);
    if (time >= stop) {
      recorder.record(time, dt);
      if (time >= grid) output++;
      while (next < times.length && times[next]! <= time) {
        stepper.grown = c.numerics.firstStep;
        next++;
      }
      bookPourEnds(c, s, run, time);
    }
    if (time >= c.lift || time >= c.horizon) break;
    const drained = time > lastActivity && s.water[0]! <= HEAD_SEEN && s.totals.dripFlow < DRIP_END;
    if (drained && c.lift === Number.POSITIVE_INFINITY) {
      if (time < stop) recorder.record(time, dt);
      break;
    }
  }
  run.endTime = stepper.time;
  run.lifted = stepper.time >= c.lift;
  run.dripAtEnd = s.totals.dripFlow;
  if (run.hasHead) run.headGone = null;
  for (let i = 1; i < s.nodes; i++) if (s.absorbed[i]! < 0.2 * s.absorbMax) run.dryCells++;
  if (c.bypass) addBypass(c, s, recorder);
  run.closure = closeBalances(c, s, initial);
  return run;
}

/** One step towards `stop`: liquid, then heat and solutes with that liquid. Returns the step taken [s]. */
function advance(c: BrewCase, s: State, run: Run, stepper: Stepper, stop: number): number {
  const { flow, heat } = stepper;
  const pour = activePour(c, stepper.time);
  const action = activeAction(c, stepper.time);
  const remaining = stop - stepper.time;
  flow.inflow = pour >= 0 ? c.pours[pour]!.flow : 0;
  flow.outletOpen = stepper.time >= c.outletOpens;
  const dt = solveFlow(c, s, run, stepper, firstTry(c, s, stepper, remaining));
  setExchange(c, s, dt, pour, action);
  heat.dt = dt;
  heat.poured = flow.inflow * dt;
  heat.pouredTemperature = pour >= 0 ? c.pours[pour]!.temperature - ZERO_CELSIUS : 0;
  stepHeat(c, s, heat);
  if (s.solutes > 0) stepSolutes(c, s, dt);
  if (s.tags > 0) stepTags(s, heat.poured, pour);
  releaseGas(c, s, dt);
  spill(c, s);
  s.totals.poured += heat.poured;
  s.totals.evaporated += flow.evaporated;
  flow.passed += s.down[s.nodes - 1]!;
  stepper.time = dt >= remaining * (1 - 1e-9) ? stop : stepper.time + dt;
  run.steps++;
  return dt;
}

/** Step to try first [s]: not longer than allowed, few cell volumes of flow, and an even share of what remains. */
function firstTry(c: BrewCase, s: State, stepper: Stepper, remaining: number): number {
  const through = Math.max(stepper.flow.inflow, s.totals.dripFlow);
  const cellLiquid = s.poreVolume[1]! * LIQUID_DENSITY;
  const courant = through > 0 ? (c.numerics.courant * cellLiquid) / through : c.numerics.longestStep;
  const longest = Math.min(c.numerics.longestStep, stepper.grown, courant);
  return remaining / Math.max(1, Math.ceil(remaining / longest - 1e-9));
}

/** Solves the liquid, halving the step until it converges; returns the step that did [s]. */
function solveFlow(c: BrewCase, s: State, run: Run, stepper: Stepper, first: number): number {
  const { flow, heat, loss } = stepper;
  for (let dt = first; dt >= SHORTEST_STEP; dt /= 2) {
    flow.dt = dt;
    setSurface(c, s, dt, loss, flow, heat);
    const iterations = stepFlow(c, s, flow);
    if (iterations >= 0) {
      const grown = iterations > HARD_WORK ? dt : Math.max(dt, stepper.grown) * GROWTH;
      stepper.grown = Math.min(grown, c.numerics.longestStep);
      return dt;
    }
    run.rejected++;
  }
  throw new SolverError(stepper.time);
}
