import type { BrewCase } from '../../core/src/brew/case.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { eventTimes } from '../../core/src/brew/schedule.ts';
import { serverTemperature } from '../../core/src/brew/state.ts';
import { BackwardDifferences, type Counts } from './general.ts';
import { cellAt, couplings, HEAT, scales } from './layout.ts';
import { Equations } from './rhs.ts';

/** What a brew came to, however it was solved. */
export interface Outcome {
  beverage_g: number;
  strength_pct: number;
  server_C: number;
  /** Mean of the cells at the end. */
  bed_C: number;
}

const outcome = (water: number, solids: number, server_C: number, cells: readonly number[]): Outcome => ({
  beverage_g: (water + solids) * 1e3,
  strength_pct: (100 * solids) / (water + solids),
  server_C,
  bed_C: cells.reduce((sum, T) => sum + T, 0) / cells.length,
});

/** By the engine. The case must end by its lift or horizon, before it has drained. */
export function byEngine(c: BrewCase): Outcome & { steps: number; rejected: number } {
  const { state: s, steps, rejected } = runCase(c);
  const solids = s.now.served.reduce((sum, x) => sum + x, 0);
  const cells = Array.from(s.levels.temperature.subarray(1));
  return { ...outcome(s.now.ledger[1]!, solids, serverTemperature(c, s), cells), steps, rejected };
}

/** Moments between which nothing starts or stops, the end last [s]. */
export function stretchesOf(c: BrewCase): number[] {
  const end = Math.min(c.lift, c.horizon);
  return [...eventTimes(c).times.filter((time) => time > 0 && time < end), end];
}

/** What a vector at the end of a run comes to. */
export function outcomeOf(e: Equations, y: Float64Array): Outcome {
  const l = e.layout;
  const solids = y.subarray(l.served, l.served + l.solutes).reduce((sum, x) => sum + x, 0);
  const cells = Array.from({ length: l.cells }, (_, k) => y[cellAt(l, k + 1) + HEAT]!);
  return outcome(y[l.servedWater]!, solids, y[l.server]!, cells);
}

/** By backward differences, started anew after every event. */
export function byGeneral(c: BrewCase, rtol: number): Outcome & Counts & { calls: number } {
  const e = new Equations(c);
  const problem = { slope: e.slope, pattern: couplings(e.layout), scale: scales(e.layout, c, e.state) };
  const solver = new BackwardDifferences(problem, rtol);
  const y = e.start.slice();
  let time = 0;
  for (const until of stretchesOf(c)) {
    e.moment = (time + until) / 2;
    solver.advance(y, time, until);
    time = until;
  }
  return { ...outcomeOf(e, y), ...solver.counts, calls: e.calls };
}
