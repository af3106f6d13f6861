import type { RunClosure } from './balance.ts';
import type { BrewCase } from './case.ts';
import { HEAD_SEEN, headHeight } from './flow.ts';
import { PathFlows } from './path-flows.ts';
import type { Recorder } from './recorder.ts';
import type { State } from './state.ts';

/** A drip below this counts as over [kg/s]. */
const DRIP_OVER = 1e-4;
/** A bare bed is worth a word after this long [s]. */
const BARE_SPAN = 3;

/** What a run leaves: the state at its end, the record, and the balances. SI, temperatures in °C. */
export interface Run {
  state: State;
  recorder: Recorder;
  endTime: number;
  lifted: boolean;
  /** Liquid stands over the bed just now. */
  hasHead: boolean;
  /** Moment the head was gone for good; null when it never was. */
  headGone: number | null;
  /** Spans in which the wetted bed stood without a head, each ended by a pour. */
  bareGaps: { from: number; until: number }[];
  /** Moment the drip was over for good. */
  dripOver: number;
  /** Drip at the end of the last step [kg/s]. */
  lastDrip: number;
  peak: { temperature: number; time: number };
  lowest: { temperature: number; time: number; layer: number };
  /** Highest head [m] and when. */
  highestHead: { height: number; time: number };
  /** Mean bed temperature when each pour ended [°C]. */
  bedAfterPour: Float64Array;
  pathFlows: PathFlows;
  /** Drip when the dripper was lifted [kg/s]. */
  dripAtEnd: number;
  dryCells: number;
  steps: number;
  rejected: number;
  closure: RunClosure;
}

/** An empty account of a run that is about to start. */
export function startRun(c: BrewCase, state: State, recorder: Recorder): Run {
  return {
    state,
    recorder,
    endTime: 0,
    lifted: false,
    hasHead: false,
    headGone: null,
    bareGaps: [],
    dripOver: 0,
    lastDrip: 0,
    peak: { temperature: Number.NEGATIVE_INFINITY, time: 0 },
    lowest: { temperature: Number.POSITIVE_INFINITY, time: 0, layer: 0 },
    highestHead: { height: 0, time: 0 },
    bedAfterPour: new Float64Array(c.pours.length).fill(Number.NaN),
    pathFlows: new PathFlows(state.paths),
    dripAtEnd: 0,
    dryCells: 0,
    steps: 0,
    rejected: 0,
    closure: { water: 0, solutes: new Float64Array(c.solutes.length), enthalpy: 0 },
  };
}

/** Layers of the bed whose temperatures are told: few enough to mean the same on every grid. */
export const LAYERS = 4;

/**
 * Mean temperature of a quarter of the bed, 0 at the top [°C]; a cell that lies in two quarters counts in shares. NaN when
 * `wettedOnly` and the quarter is not half wetted.
 */
export function layerTemperature(c: BrewCase, s: State, layer: number, wettedOnly: boolean): number {
  const from = (layer * s.cells) / LAYERS;
  const to = ((layer + 1) * s.cells) / LAYERS;
  let sum = 0;
  let taken = 0;
  let room = 0;
  for (let k = Math.floor(from); k < to; k++) {
    const part = (Math.min(to, k + 1) - Math.max(from, k)) / (to - from);
    for (let p = 0; p < s.paths; p++) {
      const i = p * s.cells + k + 1;
      sum += part * c.bed.paths[p]!.share * s.levels.temperature[i]!;
      taken += part * s.now.absorbed[i]!;
      room += part * s.absorbMax[i]!;
    }
  }
  return wettedOnly && taken < 0.5 * room ? Number.NaN : sum;
}

/** Keeps the extremes of the wetted bed and the head. */
export function watch(c: BrewCase, s: State, run: Run, time: number, dt: number): void {
  for (let layer = 0; layer < LAYERS; layer++) {
    const T = layerTemperature(c, s, layer, true);
    if (T > run.peak.temperature) {
      run.peak.temperature = T;
      run.peak.time = time;
    }
    if (T < run.lowest.temperature) {
      run.lowest.temperature = T;
      run.lowest.time = time;
      run.lowest.layer = layer;
    }
  }
  const height = headHeight(c, s, s.now.water[0]!);
  if (height > run.highestHead.height) {
    run.highestHead.height = height;
    run.highestHead.time = time;
  }
  run.pathFlows.add(s);
  watchHead(s, run, time, dt);
  watchDrip(s, run, time, dt);
}

/** Notes until when the drip goes on; within a step it falls in a straight line. */
function watchDrip(s: State, run: Run, time: number, dt: number): void {
  const { flow } = s.drip;
  if (flow >= DRIP_OVER) run.dripOver = time;
  else if (run.lastDrip >= DRIP_OVER) run.dripOver = time - (dt * (DRIP_OVER - flow)) / (run.lastDrip - flow);
  run.lastDrip = flow;
}

/** Notes when the head comes and goes; within a step it falls in a straight line. */
function watchHead(s: State, run: Run, time: number, dt: number): void {
  const head = s.now.water[0]!;
  if (head > HEAD_SEEN) {
    if (!run.hasHead && run.headGone !== null && time - run.headGone > BARE_SPAN)
      run.bareGaps.push({ from: run.headGone, until: time - dt });
    run.hasHead = true;
  } else if (run.hasHead) {
    run.hasHead = false;
    const before = s.begin.water[0]!;
    run.headGone = before > head ? time - (dt * (HEAD_SEEN - head)) / (before - head) : time;
  }
}

/** Mean bed temperature at the end of each pour that has just ended. */
export function bookPourEnds(c: BrewCase, s: State, run: Run, time: number): void {
  for (let p = 0; p < c.pours.length; p++) {
    if (!Number.isNaN(run.bedAfterPour[p]!) || time < c.pours[p]!.end) continue;
    let sum = 0;
    for (let layer = 0; layer < LAYERS; layer++) sum += layerTemperature(c, s, layer, false);
    run.bedAfterPour[p] = sum / LAYERS;
  }
}
