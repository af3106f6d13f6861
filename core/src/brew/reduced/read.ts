import { releasedOf } from '../balance.ts';
import type { BrewCase, Numerics } from '../case.ts';
import type { Run } from '../watch.ts';
import { blankCase } from './blank-case.ts';

/** Numerics of one step length throughout, so that order can be seen: every step ends on the grid [s]. */
export function fixedSteps(cells: number, bins: number, step: number): Numerics {
  return {
    ...blankCase().numerics,
    cells,
    bins,
    tolerance: Number.POSITIVE_INFINITY,
    longestStep: step,
    firstStep: step,
  };
}

/** Solids that have left the grains over what they held, all solutes together. */
export function releasedShare(c: BrewCase, run: Run): number {
  const stock = c.solutes.reduce((sum, solute) => sum + solute.extractable, 0);
  return releasedOf(c, run.state).cell.reduce((sum, mass) => sum + mass, 0) / stock;
}

/** Liquid in and between the grains over the dose. */
export function heldByBed(c: BrewCase, run: Run): number {
  const { water, absorbed } = run.state.now;
  let held = 0;
  for (let i = 1; i < water.length; i++) held += water[i]! + absorbed[i]!;
  return held / c.dose;
}

/** Lowest and highest temperature of head and bed [°C]. */
export function temperatureSpan(run: Run): { low: number; high: number } {
  const { temperature } = run.state.levels;
  return { low: Math.min(...temperature), high: Math.max(...temperature) };
}
