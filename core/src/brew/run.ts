import { closeBalances, inventory } from './balance.ts';
import type { BrewCase } from './case.ts';
import { HEAD_SEEN } from './flow.ts';
import { Recorder } from './recorder.ts';
import { eventTimes } from './schedule.ts';
import { accept, breakOff, eulerStep, reject, type Stepper, stepperOf, tryStep } from './stages.ts';
import { createState, type State } from './state.ts';
import { addBypass, spill } from './surroundings.ts';
import { bookPourEnds, type Run, startRun, watch } from './watch.ts';

/** Smallest step before a run is given up [s]; reaching it is a broken contract, not bad data. */
const SHORTEST_STEP = 1e-9;
/** How much a step may grow or shrink at once, and what is held back of the ideal. */
const GROWTH = 2;
const SHRINK = 0.25;
const CAUTION = 0.9;
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

/**
 * Runs a case from start to end: to the lift, the horizon, or until the bed has drained. Steps end exactly on every
 * event, and each leaves one record in the trace. Throws {@link SolverError} only when the equations cannot be solved.
 */
export function runCase(c: BrewCase): Run {
  const s = createState(c);
  const recorder = new Recorder(c, s);
  const run = startRun(c, s, recorder);
  const initial = inventory(s);
  const { times, lastActivity } = eventTimes(c);
  const stepper = stepperOf(s);
  const pace = { time: 0, next: c.numerics.firstStep };
  let next = 0;
  recorder.record(0, 0);
  while (next < times.length && times[next]! <= 0) next++;

  for (;;) {
    const stop = Math.min(times[next] ?? c.horizon, c.lift, c.horizon);
    const dt = advance(c, s, run, stepper, pace, stop);
    spill(s);
    watch(c, s, run, pace.time, dt);
    recorder.record(pace.time, dt);
    if (pace.time >= stop) {
      pace.next = Math.min(pace.next, c.numerics.firstStep);
      breakOff(s, stepper);
      while (next < times.length && times[next]! <= pace.time) next++;
      bookPourEnds(c, s, run, pace.time);
    }
    if (pace.time >= c.lift || pace.time >= c.horizon) break;
    const drained = pace.time > lastActivity && s.now.water[0]! <= HEAD_SEEN && s.drip.flow < DRIP_END;
    if (drained && c.lift === Number.POSITIVE_INFINITY) break;
  }
  run.endTime = pace.time;
  run.lifted = pace.time >= c.lift;
  run.dripAtEnd = s.drip.flow;
  if (run.hasHead) run.headGone = null;
  for (let i = 1; i < s.nodes; i++) if (s.now.absorbed[i]! < 0.2 * s.absorbMax[i]!) run.dryCells++;
  if (c.bypass) addBypass(c, s, recorder);
  run.closure = closeBalances(s, initial, c.bypass?.mass ?? 0);
  return run;
}

/** One accepted step towards `stop`. Returns the step taken [s] and leaves the next to try in `pace`. */
function advance(
  c: BrewCase,
  s: State,
  run: Run,
  stepper: Stepper,
  pace: { time: number; next: number },
  stop: number,
): number {
  const remaining = stop - pace.time;
  let dt = evenShare(remaining, Math.min(pace.next, c.numerics.longestStep));
  // A step that had to be shortened does not grow at once.
  let growth = GROWTH;
  for (;;) {
    const { done, error } = tryStep(c, s, stepper, pace.time, dt);
    if (done && (error <= 1 || dt <= c.numerics.firstStep)) {
      accept(s, stepper, dt);
      const factor = error > 0 ? CAUTION * Math.cbrt(1 / error) : GROWTH;
      pace.next = dt * Math.min(growth, Math.max(SHRINK, factor));
      break;
    }
    if (done) reject(s);
    run.rejected++;
    growth = 1;
    if (done) {
      const shorter = dt * Math.max(SHRINK, CAUTION * Math.cbrt(1 / error));
      dt = evenShare(remaining, Math.max(c.numerics.firstStep, shorter));
      continue;
    }
    if (dt <= c.numerics.firstStep && eulerStep(c, s, stepper, pace.time, dt)) {
      pace.next = dt;
      break;
    }
    dt = dt > c.numerics.firstStep ? evenShare(remaining, Math.max(c.numerics.firstStep, dt / 3)) : dt / 2;
    if (dt < SHORTEST_STEP) throw new SolverError(pace.time);
  }
  pace.time = dt >= remaining * (1 - 1e-9) ? stop : pace.time + dt;
  run.steps++;
  return dt;
}

/** A step not longer than wanted that divides what remains; far from the end it stays as wanted. */
function evenShare(remaining: number, wanted: number): number {
  const count = Math.ceil(remaining / wanted - 1e-9);
  return count <= 1 ? remaining : count <= 3 ? remaining / count : wanted;
}
