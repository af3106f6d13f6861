import { celsius, ZERO_CELSIUS } from '../units/index.ts';
import { setExchange } from './agitation.ts';
import type { BrewCase } from './case.ts';
import { type FlowInput, HEAD_SEEN, headHeight, LIQUID_DENSITY, stepFlow } from './flow.ts';
import { volumeBelow } from './geometry.ts';
import { enthalpyOf, type HeatInput, LIQUID_HEAT_CAPACITY, stepHeat } from './heat.ts';
import { Recorder } from './recorder.ts';
import { soluteHeld, stepSolutes, stepTags } from './solute-step.ts';
import { createState, type State } from './state.ts';
import { surfaceLoss } from './surface.ts';

/** Smallest step before a run is given up [s]; reaching it is a broken contract, not bad data. */
const SHORTEST_STEP = 1e-9;
/** A drip below this counts as over [kg/s]. */
export const DRIP_OVER = 1e-4;
/** A bare bed is worth a word after this long [s]. */
const BARE_SPAN = 3;
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

/** What a run leaves: the state at its end, the record, and the balances. SI, temperatures in °C. */
export interface Run {
  state: State;
  recorder: Recorder;
  endTime: number;
  lifted: boolean;
  /** Moment the head was gone for good; null when it never was. */
  headGone: number | null;
  /** Spans in which the wetted bed stood without a head, each ended by a pour. */
  bareGaps: { from: number; until: number }[];
  /** Moment the drip was over for good. */
  dripOver: number;
  peak: { temperature: number; time: number };
  lowest: { temperature: number; time: number; cell: number };
  /** Highest head [m] and when. */
  highestHead: { height: number; time: number };
  /** Mean bed temperature when each pour ended [°C]. */
  bedAfterPour: Float64Array;
  /** Drip when the dripper was lifted [kg/s]. */
  dripAtEnd: number;
  dryCells: number;
  steps: number;
  rejected: number;
  closure: { water: number; solutes: Float64Array; enthalpy: number };
}

/** Runs a case from start to end. Throws {@link SolverError} only when the equations cannot be solved. */
export function runCase(c: BrewCase): Run {
  const s = createState(c);
  const recorder = new Recorder(c, s);
  const initial = inventory(c, s);
  const moments = eventTimes(c);
  const run: Run = {
    state: s,
    recorder,
    endTime: 0,
    lifted: false,
    headGone: null,
    bareGaps: [],
    dripOver: 0,
    peak: { temperature: Number.NEGATIVE_INFINITY, time: 0 },
    lowest: { temperature: Number.POSITIVE_INFINITY, time: 0, cell: 0 },
    highestHead: { height: 0, time: 0 },
    bedAfterPour: new Float64Array(c.pours.length).fill(Number.NaN),
    dripAtEnd: 0,
    dryCells: 0,
    steps: 0,
    rejected: 0,
    closure: { water: 0, solutes: new Float64Array(c.solutes.length), enthalpy: 0 },
  };
  const flow: FlowInput = { dt: 0, inflow: 0, evaporated: 0, outletOpen: true, passed: 0 };
  const heat: HeatInput = { dt: 0, poured: 0, pouredTemperature: 0, surface: 0 };
  const loss = new Float64Array(2);
  const lastActivity = moments.lastActivity;
  const cellLiquid = s.poreVolume[1]! * LIQUID_DENSITY;
  let time = 0;
  let next = 0;
  let output = 1;
  let grown = c.numerics.firstStep;
  let hadHead = false;
  recorder.record(0, 0);
  while (next < moments.times.length && moments.times[next]! <= 0) next++;

  while (true) {
    const event = moments.times[next] ?? c.horizon;
    const grid = output * c.numerics.outputStep;
    const stop = Math.min(event, grid, c.lift, c.horizon);
    const pour = activePour(c, time);
    const action = activeAction(c, time);
    flow.inflow = pour >= 0 ? c.pours[pour]!.flow : 0;
    flow.outletOpen = time >= c.outletOpens;
    const through = Math.max(flow.inflow, s.totals.dripFlow);
    const courant = through > 0 ? (c.numerics.courant * cellLiquid) / through : c.numerics.longestStep;
    const remaining = stop - time;
    let dt = Math.min(c.numerics.longestStep, grown, courant);
    dt = remaining / Math.max(1, Math.ceil(remaining / dt - 1e-9));

    let iterations = -1;
    while (iterations < 0) {
      flow.dt = dt;
      setSurface(c, s, dt, loss, flow, heat);
      iterations = stepFlow(c, s, flow);
      if (iterations < 0) {
        run.rejected++;
        dt /= 2;
        if (dt < SHORTEST_STEP) throw new SolverError(time);
      }
    }
    run.steps++;
    grown = iterations > 8 ? dt : Math.max(dt, grown) * 1.5;
    grown = Math.min(grown, c.numerics.longestStep);
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
    time = dt >= remaining * (1 - 1e-9) ? stop : time + dt;

    watch(c, s, run, time);
    if (s.water[0]! > HEAD_SEEN) {
      if (!hadHead && run.headGone !== null && time - run.headGone > BARE_SPAN)
        run.bareGaps.push({ from: run.headGone, until: time - dt });
      hadHead = true;
    } else if (hadHead) {
      hadHead = false;
      run.headGone = time;
    }
    if (s.totals.dripFlow >= DRIP_OVER) run.dripOver = time;
    if (time >= stop) {
      recorder.record(time, dt);
      if (time >= grid) output++;
      while (next < moments.times.length && moments.times[next]! <= time) {
        grown = c.numerics.firstStep;
        next++;
      }
      bookPourEnds(c, s, run, time);
    }
    if (time >= c.lift) {
      run.lifted = true;
      break;
    }
    if (time >= c.horizon) break;
    const drained = time > lastActivity && s.water[0]! <= HEAD_SEEN && s.totals.dripFlow < DRIP_END;
    if (drained && c.lift === Number.POSITIVE_INFINITY) {
      recorder.record(time, dt);
      break;
    }
  }
  run.endTime = time;
  run.dripAtEnd = s.totals.dripFlow;
  if (hadHead) run.headGone = null;
  for (let i = 1; i < s.nodes; i++) if (s.absorbed[i]! < 0.2 * s.absorbMax) run.dryCells++;
  if (c.bypass) addBypass(c, s, recorder);
  closeBalances(c, s, run, initial);
  return run;
}

/** Evaporation [kg] and sensible coefficient of the free surface for one step, at the temperatures before. */
function setSurface(
  c: BrewCase,
  s: State,
  dt: number,
  loss: Float64Array,
  flow: FlowInput,
  heat: HeatInput,
): void {
  const factor = c.air.surfaceFactor;
  if (factor === 0) {
    flow.evaporated = 0;
    heat.surface = 0;
    return;
  }
  const headed = s.water[0]! > 1e-4;
  const surface = (headed ? s.temperature[0]! : s.temperature[1]!) + ZERO_CELSIUS;
  const radius = s.bedTopRadius + c.vessel.slope * headHeight(c, s, s.water[0]!);
  surfaceLoss(surface, c.air.temperature, c.air.pressure, c.air.vapourPressure, 2 * radius, loss);
  const area = Math.PI * radius * radius * factor;
  const topCell = s.water[1]! / (s.poreVolume[1]! * LIQUID_DENSITY);
  const wet = headed ? 1 : topCell / (topCell + 0.1);
  flow.evaporated = Math.min(loss[0]! * area * dt * wet, 0.05 * (s.water[0]! + s.water[1]!));
  heat.surface = loss[1]! * area;
}

/** Gas leaves a cell once it is wet, first order and exact over the step. */
function releaseGas(c: BrewCase, s: State, dt: number): void {
  for (let i = 1; i < s.nodes; i++) {
    const wet = s.absorbMax > 0 ? Math.min(1, (2 * s.absorbed[i]!) / s.absorbMax) : 1;
    s.gas[i]! *= Math.exp((-dt / c.gas.releaseTime) * wet);
  }
}

/** What stands above the rim runs over and is lost, with its heat and solutes. */
function spill(c: BrewCase, s: State): void {
  const room = (volumeBelow(c.vessel, c.vessel.height) - volumeBelow(c.vessel, s.bedDepth)) * LIQUID_DENSITY;
  const over = s.water[0]! - Math.max(0, room);
  if (over <= 0) return;
  const kept = 1 - over / s.water[0]!;
  s.water[0]! -= over;
  s.totals.spilled += over;
  s.totals.heatSpilled += LIQUID_HEAT_CAPACITY * over * s.temperature[0]!;
  for (let q = 0; q < s.solutes; q++) s.totals.spilledSolute[q]! += over * s.ratio[q * s.nodes]!;
  for (let p = 0; p < s.tags; p++) s.tag[p * s.nodes]! *= kept;
}

/** Keeps the extremes of the wetted bed and the head. */
function watch(c: BrewCase, s: State, run: Run, time: number): void {
  for (let i = 1; i < s.nodes; i++) {
    if (s.absorbed[i]! < 0.5 * s.absorbMax) continue;
    const T = s.temperature[i]!;
    if (T > run.peak.temperature) {
      run.peak.temperature = T;
      run.peak.time = time;
    }
    if (T < run.lowest.temperature) {
      run.lowest.temperature = T;
      run.lowest.time = time;
      run.lowest.cell = i - 1;
    }
  }
  const height = headHeight(c, s, s.water[0]!);
  if (height > run.highestHead.height) {
    run.highestHead.height = height;
    run.highestHead.time = time;
  }
}

function bookPourEnds(c: BrewCase, s: State, run: Run, time: number): void {
  for (let p = 0; p < c.pours.length; p++) {
    if (!Number.isNaN(run.bedAfterPour[p]!) || time < c.pours[p]!.end) continue;
    let sum = 0;
    for (let i = 1; i < s.nodes; i++) sum += s.temperature[i]!;
    run.bedAfterPour[p] = sum / s.cells;
  }
}

/** Bypass water goes straight to the server when the brew is done. */
function addBypass(c: BrewCase, s: State, recorder: Recorder): void {
  const { mass, temperature } = c.bypass!;
  const t = s.totals;
  const held = c.server.heatCapacity + LIQUID_HEAT_CAPACITY * t.served;
  const added = LIQUID_HEAT_CAPACITY * mass;
  const T = celsius(temperature);
  t.serverTemperature = (held * t.serverTemperature + added * T) / (held + added);
  t.served += mass;
  t.bypass += mass;
  t.heatIn += added * T;
  recorder.amendLast();
}

interface Inventory {
  water: number;
  enthalpy: number;
  solutes: Float64Array;
}

function inventory(c: BrewCase, s: State): Inventory {
  let water = 0;
  for (let i = 0; i < s.nodes; i++) water += s.water[i]! + s.absorbed[i]!;
  const solutes = new Float64Array(s.solutes);
  for (let q = 0; q < s.solutes; q++) solutes[q] = soluteHeld(s, q);
  return { water, enthalpy: enthalpyOf(c, s), solutes };
}

/** Relative closures: what went in and was there, against what came out and is there. */
function closeBalances(c: BrewCase, s: State, run: Run, initial: Inventory): void {
  const now = inventory(c, s);
  const t = s.totals;
  const waterIn = initial.water + t.poured + t.bypass;
  run.closure.water = Math.abs(waterIn - now.water - t.served - t.evaporated - t.spilled) / waterIn;
  const heatIn = initial.enthalpy + t.heatIn;
  const scale = Math.abs(initial.enthalpy) + Math.abs(t.heatIn) + Math.abs(t.heatOut) + 1e-9;
  run.closure.enthalpy = Math.abs(heatIn - now.enthalpy - t.heatOut - t.heatSpilled) / scale;
  for (let q = 0; q < s.solutes; q++) {
    const total = initial.solutes[q]!;
    const out = now.solutes[q]! + t.servedSolute[q]! + t.spilledSolute[q]!;
    run.closure.solutes[q] = total > 0 ? Math.abs(total - out) / total : 0;
  }
}

/** Every moment at which something starts or stops, rising, without doubles. */
function eventTimes(c: BrewCase): { times: number[]; lastActivity: number } {
  const times = new Set<number>();
  for (const p of c.pours) {
    times.add(p.start);
    times.add(p.end);
  }
  for (const a of c.actions) {
    times.add(a.start);
    times.add(a.end);
  }
  if (c.outletOpens > 0 && Number.isFinite(c.outletOpens)) times.add(c.outletOpens);
  const sorted = [...times].filter((t) => t <= c.horizon).sort((a, b) => a - b);
  return { times: sorted, lastActivity: sorted.at(-1) ?? 0 };
}

function activePour(c: BrewCase, time: number): number {
  for (let p = 0; p < c.pours.length; p++) if (time >= c.pours[p]!.start && time < c.pours[p]!.end) return p;
  return -1;
}

function activeAction(c: BrewCase, time: number): number {
  for (let a = 0; a < c.actions.length; a++)
    if (time >= c.actions[a]!.start && time < c.actions[a]!.end) return a;
  return -1;
}
