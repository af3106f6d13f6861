import { analyseSizes, tableOf } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { pathOf, placeOf, reachOf, sizeOf, topOf } from './axes.ts';
import { at, letterPlace, lineOfAnalysis, lineOfTable, mixedLine, pointsOf, sizeAt } from './series.ts';

/** One log-normal mode by mass, as a table. */
const mode = (median_um: number, gsd: number) =>
  tableOf({ by: 'modes', modes: [{ share: 1, median_um, gsd }] });

describe('a line laid out from a table', () => {
  it('rises to all of the mass and has its median where the mode has it', () => {
    const line = lineOfTable(mode(700, 1.4));
    expect(line.below[0]).toBeCloseTo(0, 6);
    expect(line.below.at(-1)).toBeCloseTo(100, 6);
    expect(line.below.every((value, k) => k === 0 || value >= line.below[k - 1]! - 1e-9)).toBe(true);
    expect(sizeAt(line, 50)!).toBeCloseTo(700, -1);
    // One geometric standard deviation up holds Φ(1) = 84.13 % of a log-normal.
    expect(at(line.um, line.below, 700 * 1.4)).toBeCloseTo(84.13, 0);
  });

  it('has a density of the height a log-normal has, and under it all of the mass', () => {
    const line = lineOfTable(mode(700, 1.5));
    // Peak of a log-normal over log10 d: ln 10/(σ√(2π)), σ = ln 1.5; the window of the drawing takes a little off.
    const peak = (100 * Math.LN10) / (Math.log(1.5) * Math.sqrt(2 * Math.PI));
    expect(Math.max(...line.density)).toBeGreaterThan(0.95 * peak);
    expect(Math.max(...line.density)).toBeLessThan(1.01 * peak);
    const area = line.density.reduce(
      (sum, value, k) => (k === 0 ? sum : sum + value * Math.log10(line.um[k]! / line.um[k - 1]!)),
      0,
    );
    expect(area).toBeCloseTo(100, 0);
  });

  it('stands a single class', () => {
    const line = lineOfTable({ diameter: Float64Array.of(5e-4), share: Float64Array.of(1) });
    expect(sizeAt(line, 50)!).toBeCloseTo(500, -1);
    expect(line.density.every(Number.isFinite)).toBe(true);
  });

  it('mixes by share', () => {
    const [fine, coarse] = [lineOfTable(mode(100, 1.2)), lineOfTable(mode(900, 1.2))];
    const mix = mixedLine([
      { share: 1, line: fine },
      { share: 3, line: coarse },
    ]);
    expect(at(mix.um, mix.below, 300)).toBeCloseTo(25, 3);
    expect(at(mix.um, mix.below, 4_000)).toBeCloseTo(100, 3);
  });
});

describe('a line of a measurement', () => {
  it('is its fit, with measured marks and a spread only when there is one', () => {
    const rows = [1000, 710, 500, 355, 250].map((aperture_um, i) => ({
      aperture_um,
      weighed_g: [3, 8, 10, 6, 2][i]!,
      tare_g: 0,
    }));
    const { analysis } = analyseSizes(
      {
        by: 'sieves',
        load_g: 30,
        sieves: rows,
        pan: { weighed_g: 1, tare_g: 0 },
        step_g: 0.1,
        aperture_doubt_pct: null,
        repeat_pct: 0.5,
        shaken_s: null,
      },
      { draws: 0 },
    );
    const line = lineOfAnalysis(analysis!, false);
    expect(line.low).toBeNull();
    expect(pointsOf(analysis!).map(({ um }) => Math.round(um))).toEqual([250, 355, 500, 710, 1000]);
    // 1 + 2 + 6 of 30 g are finer than 500 µm.
    expect(pointsOf(analysis!)[2]!.pct).toBeCloseTo(30, 6);
    expect(at(line.um, line.below, 500)).toBeCloseTo(30, -0.7);
  });
});

describe('axes', () => {
  it('reach from mark to mark around all mass', () => {
    expect(reachOf([lineOfTable(mode(60, 1.3)), lineOfTable(mode(900, 1.4))])).toEqual({
      low: 20,
      high: 5_000,
    });
    expect(reachOf([])).toEqual({ low: 100, high: 1_000 });
  });

  it('find the size under a place and the place of a size', () => {
    const reach = { low: 10, high: 1_000 };
    expect(placeOf(100, reach, 300)).toBeCloseTo(150, 9);
    expect(sizeOf(placeOf(237, reach, 300), reach, 300)).toBeCloseTo(237, 9);
  });

  it('end at a round figure', () => {
    expect(topOf(163)).toBe(200);
    expect(topOf(100)).toBe(100);
    expect(topOf(0)).toBeGreaterThan(0);
  });

  it('draw paths and keep letters on the line', () => {
    expect(pathOf([0, 1], [2, 3])).toBe('M0.0 2.0L1.0 3.0');
    const line = lineOfTable(mode(700, 1.4));
    expect(letterPlace(line, -1_000)).toBe(0);
    expect(letterPlace(line, 1_000)).toBe(line.um.length - 1);
  });
});
