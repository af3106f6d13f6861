import { describe, expect, it } from 'vitest';
import { classMean, cutTable, mixTables, shareBelow, specificSurface, tableOf } from './classes.ts';

const coarse = tableOf({ by: 'modes', modes: [{ share: 1, median_um: 800, gsd: 1.5 }] });
const withFines = tableOf({
  by: 'modes',
  modes: [
    { share: 0.88, median_um: 800, gsd: 1.45 },
    { share: 0.12, median_um: 50, gsd: 1.6 },
  ],
});
const sum = (x: Float64Array) => x.reduce((a, b) => a + b, 0);
const moment = (t: typeof coarse, power: number) =>
  t.diameter.reduce((total, d, k) => total + t.share[k]! * d ** power, 0);

describe('a log-normal mode on a table', () => {
  it('keeps all mass, half of it below the median', () => {
    expect(sum(coarse.share)).toBeCloseTo(1, 12);
    expect(shareBelow(coarse, 800e-6)).toBeCloseTo(0.5, 1);
  });
  it('has the mean diameters of a log-normal: d·exp(±s²/2) (Hatch and Choate 1929)', () => {
    const s = Math.log(1.5);
    expect(moment(coarse, 1) / (800e-6 * Math.exp((s * s) / 2))).toBeCloseTo(1, 3);
    expect(1 / moment(coarse, -1) / (800e-6 * Math.exp((-s * s) / 2))).toBeCloseTo(1, 3);
  });
});

describe('measured classes', () => {
  it('stay as they were measured, empty ones left out', () => {
    const table = tableOf({
      by: 'classes',
      classes: [
        { diameter_um: 100, share: 0.2 },
        { diameter_um: 400, share: 0 },
        { diameter_um: 900, share: 0.8 },
      ],
    });
    expect([...table.diameter].map((d) => Math.round(d * 1e6))).toEqual([100, 900]);
    expect([...table.share]).toEqual([0.2, 0.8]);
  });
});

describe('mixing by mass', () => {
  it('adds surfaces in the same shares', () => {
    const mix = mixTables([
      { share: 0.75, table: coarse },
      { share: 0.25, table: withFines },
    ]);
    const surface = (t: typeof coarse) => specificSurface(t, 0, 1);
    expect(sum(mix.share)).toBeCloseTo(1, 12);
    expect(surface(mix)).toBeCloseTo(0.75 * surface(coarse) + 0.25 * surface(withFines), 6);
  });
});

describe('cutting into few classes', () => {
  it.each([2, 5, 8, 14])('%i of them keep mass, surface, order and the share of fines', (count) => {
    const classes = cutTable(withFines, count, 100e-6);
    const means = classes.map(classMean);
    expect(classes.length).toBeLessThanOrEqual(count);
    expect(means.reduce((total, c) => total + c.share, 0)).toBeCloseTo(1, 9);
    const surface = classes.reduce((total, c) => total + specificSurface(c, 0, 1), 0);
    expect(surface / specificSurface(withFines, 0, 1)).toBeCloseTo(1, 9);
    expect(means[0]!.share).toBeCloseTo(shareBelow(withFines, 100e-6), 9);
    expect(means.map((c) => c.diameter)).toEqual(means.map((c) => c.diameter).sort((a, b) => a - b));
    for (const c of means.slice(1)) expect(c.share).toBeCloseTo((1 - means[0]!.share) / (count - 1), 6);
  });
  it('works on fines alone and on a single size', () => {
    const dust = tableOf({ by: 'modes', modes: [{ share: 1, median_um: 30, gsd: 1.2 }] });
    expect(cutTable(dust, 5, 100e-6).length).toBe(1);
    const one = tableOf({ by: 'classes', classes: [{ diameter_um: 700, share: 1 }] });
    expect(cutTable(one, 8, 100e-6).map(classMean)).toEqual([{ share: 1, diameter: 700e-6 }]);
  });
});
