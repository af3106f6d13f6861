import type { RunClosure } from './balance.ts';
import type { BrewCase } from './case.ts';
import { HEAD_SEEN, headHeight } from './flow.ts';
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
}

/** Keeps the extremes of the wetted bed and the head. */
export function watch(c: BrewCase, s: State, run: Run, time: number, dt: number): void {
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
  watchHead(s, run, time, dt);
  if (s.totals.dripFlow >= DRIP_OVER) run.dripOver = time;
}

/** Notes when the head comes and goes. */
function watchHead(s: State, run: Run, time: number, dt: number): void {
  if (s.water[0]! > HEAD_SEEN) {
    if (!run.hasHead && run.headGone !== null && time - run.headGone > BARE_SPAN)
      run.bareGaps.push({ from: run.headGone, until: time - dt });
    run.hasHead = true;
  } else if (run.hasHead) {
    run.hasHead = false;
    run.headGone = time;
  }
}

/** Mean bed temperature at the end of each pour that has just ended. */
export function bookPourEnds(c: BrewCase, s: State, run: Run, time: number): void {
  for (let p = 0; p < c.pours.length; p++) {
    if (!Number.isNaN(run.bedAfterPour[p]!) || time < c.pours[p]!.end) continue;
    let sum = 0;
    for (let i = 1; i < s.nodes; i++) sum += s.temperature[i]!;
    run.bedAfterPour[p] = sum / s.cells;
  }
}
