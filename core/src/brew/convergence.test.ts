/** How fast the engine's own error falls with its steps and cells, where nothing starts, stops or runs empty. */
import { beforeAll, describe, expect, it } from 'vitest';
import { outflowOf, SPHERE_COLUMN, sphereColumn } from './reduced/index.ts';
import { runCase } from './run.ts';
import { type Drained, drained, smoothDrain } from './testing/smooth-drain.ts';

/** Orders seen between three runs in a row, each twice as fine as the one before. */
function ordersOf(values: readonly number[]): number[] {
  const changes = values.slice(1).map((x, i) => Math.abs(x - values[i]!));
  return changes.slice(1).map((change, i) => Math.log2(changes[i]! / change));
}

/** Value of a sampled curve at a moment, linear between records. */
function valueAt(time: Float64Array, values: Float64Array, at: number): number {
  const i = time.findIndex((t) => t >= at);
  const share = (at - time[i - 1]!) / (time[i]! - time[i - 1]!);
  return values[i - 1]! + share * (values[i]! - values[i - 1]!);
}

describe('in time, on a bed that drains under a head', () => {
  const STEPS = [2, 1, 0.5, 0.25];
  const CELLS = 8;
  let found: Drained[] = [];
  beforeAll(() => {
    found = STEPS.map((step) => drained(smoothDrain(CELLS, step)));
  });

  it('every step has the length asked for, and the head outlasts them', () => {
    for (const run of found) {
      expect(run.rejected).toBe(0);
      expect(run.head).toBeGreaterThan(0.05);
    }
  });

  it.each(['served', 'server', 'bed'] as const)('%s is of second order (1.8 or more)', (figure) => {
    for (const order of ordersOf(found.map((run) => run[figure]))) expect(order).toBeGreaterThan(1.8);
  });

  it('what slow pools give is of second order (1.8 or more)', () => {
    // Whole cells of one size, in dilute liquid: the stiff pools of fines see their own order only in steps shorter than they last.
    const solids = STEPS.map((step) => {
      const c = smoothDrain(CELLS, step);
      return drained({
        ...c,
        grains: { ...c.grains, brokenLayer: 0 },
        solutes: c.solutes.map((solute) => ({ ...solute, partition: 0 })),
        numerics: { ...c.numerics, bins: 1 },
      }).solids;
    });
    for (const order of ordersOf(solids)) expect(order).toBeGreaterThan(1.8);
  });

  it('what all pools give, the fastest of half a second included, is within 0.1 % at steps of half a second', () => {
    const rough = found[2]!.solids;
    const fine = drained(smoothDrain(CELLS, 1 / 32)).solids;
    expect(Math.abs(rough / fine - 1)).toBeLessThan(1e-3);
  });
});

describe('in space', () => {
  it('the outflow of a column is of second order (1.8 or more)', () => {
    const outflow = [13, 26, 52].map((cells) => {
      const column = sphereColumn({
        ...SPHERE_COLUMN,
        poreVolumes: 3,
        step: 0.25,
        cells,
        dispersivity: 2.4e-3,
      });
      const { time, concentration } = outflowOf(runCase(column.case).recorder.finish(), column.rest);
      return valueAt(time, concentration, 24) / column.theory.start;
    });
    expect(ordersOf(outflow)[0]).toBeGreaterThan(1.8);
  });

  it('a draining bed under a head changes less with every doubling of its cells', () => {
    const runs = [6, 12, 24, 48].map((cells) => drained(smoothDrain(cells, 0.25)));
    for (const figure of ['served', 'bed'] as const)
      for (const order of ordersOf(runs.map((run) => run[figure]))) expect(order).toBeGreaterThan(0.3);
    const last = Math.abs(runs[3]!.served / runs[2]!.served - 1);
    expect(last).toBeLessThan(5e-4);
  });
});
