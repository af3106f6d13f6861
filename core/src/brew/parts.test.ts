/** The engine's small parts, each on its own. */
import { describe, expect, it } from 'vitest';
import { cutTable, tableOf } from '../grind/index.ts';
import { sampleParameters, simulateBands } from './bands.ts';
import { columnsOf, factorColumns, solveColumns } from './columns.ts';
import { fillHeight, heightOf, volumeBelow } from './geometry.ts';
import { fingerprint } from './hash.ts';
import { jetOf, streamTemperature } from './jet.ts';
import { defaultParameters, PARAMETER_NAMES, PARAMETERS } from './parameters.ts';
import { SOLUTES } from './solutes.ts';
import { spectrumOf } from './spectrum.ts';
import { demoBundle } from './testing/demo-bundle.ts';

describe('frustum', () => {
  const cone = { r0: 0.01, slope: 0.55, height: 0.09 };
  it.each([1e-6, 2e-5, 3e-4])('fills to the height whose volume is %s m³', (volume) => {
    expect(volumeBelow(cone, heightOf(cone, volume))).toBeCloseTo(volume, 12);
  });
  it('is a cylinder when the wall is upright, and nearly one when it is nearly so', () => {
    const upright = fillHeight(0.03, 0, 1e-4);
    expect(upright).toBeCloseTo(1e-4 / (Math.PI * 9e-4), 12);
    expect(fillHeight(0.03, 1e-7, 1e-4)).toBeCloseTo(upright, 6);
  });
});

describe('a head over paths of cells', () => {
  it.each([1, 3])('with %i paths gives back the vector that made the right side', (paths) => {
    const cells = 5;
    const n = paths * cells + 1;
    const m = columnsOf(paths, cells);
    const x = Float64Array.from({ length: n }, (_, i) => Math.sin(3 * i + 1));
    for (let i = 0; i < n; i++) {
      m.above[i] = -1 - 0.1 * i;
      m.own[i] = 6 + 0.3 * i;
      m.below[i] = -1.5 + 0.05 * i;
    }
    m.headTo.set(Array.from({ length: paths }, (_, p) => -0.7 - 0.2 * p));
    const right = Float64Array.from({ length: n }, (_, i) => {
      if (i === 0)
        return m.own[0]! * x[0]! + m.headTo.reduce((sum, to, p) => sum + to * x[p * cells + 1]!, 0);
      const top = (i - 1) % cells === 0;
      const bottom = i % cells === 0;
      return m.above[i]! * x[top ? 0 : i - 1]! + m.own[i]! * x[i]! + (bottom ? 0 : m.below[i]! * x[i + 1]!);
    });
    factorColumns(m);
    solveColumns(m, right);
    x.forEach((value, i) => {
      expect(right[i]).toBeCloseTo(value, 12);
    });
  });
});

describe('release spectrum', () => {
  const classes = cutTable(
    tableOf({
      by: 'modes',
      modes: [
        { share: 0.88, median_um: 900, gsd: 1.45 },
        { share: 0.12, median_um: 50, gsd: 1.6 },
      ],
    }),
    8,
    100e-6,
  );
  const layer = 15e-6;
  /** Share of the intact cores that has left after D·t, all sizes by Crank's series. */
  const exact = (Dt: number) => {
    let left = 0;
    for (const table of classes)
      for (let k = 0; k < table.diameter.length; k++) {
        const r = table.diameter[k]! / 2;
        const core = Math.max(0, r - layer);
        if (core === 0) continue;
        let series = 0;
        for (let n = 1; n <= 400; n++)
          series += (6 / (Math.PI * n) ** 2) * Math.exp((-Dt * (Math.PI * n) ** 2) / core ** 2);
        left += table.share[k]! * (core / r) ** 3 * series;
      }
    return left;
  };
  it.each([5, 7, 14])('of %i bins follows the series over all sizes', (bins) => {
    const { rate, share, classPart } = spectrumOf(classes, layer, bins);
    expect(share.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
    for (let pool = 0; pool <= bins; pool++) {
      const parts = classes.reduce((sum, _, j) => sum + classPart[j * (bins + 1) + pool]!, 0);
      if (share[pool]! > 0) expect(parts).toBeCloseTo(1, 9);
    }
    const tolerance = { 5: 0.01, 7: 0.003, 14: 0.001 }[bins]!;
    for (const t of [10, 30, 60, 120, 240]) {
      const Dt = 3e-10 * t;
      let left = 0;
      for (let e = 1; e <= bins; e++) left += share[e]! * Math.exp(-Dt * rate[e]!);
      expect(Math.abs(left - exact(Dt))).toBeLessThan(tolerance);
    }
  });
});

describe('falling stream', () => {
  const p = defaultParameters();
  // Kinematics computed beforehand from v = √(v₀² + 2gh), d = √(4Q/πv), ½ρQv², ρQv; 93 °C, 8 mm spout.
  it.each([
    { flow: 5, height: 0.1, speed: 1.4, diameter: 2.13, power: 4.8, momentum: 6.8 },
    { flow: 5, height: 0.2, speed: 1.98, diameter: 1.79, power: 9.5, momentum: 9.6 },
    { flow: 8, height: 0.2, speed: 1.99, diameter: 2.26, power: 15.2, momentum: 15.3 },
    { flow: 3, height: 0.1, speed: 1.4, diameter: 1.65, power: 2.8, momentum: 4.1 },
  ])('of $flow mL/s over $height m', (row) => {
    const jet = jetOf(row.flow * 0.96327e-3, row.height, 366.15, p);
    expect(jet.speed).toBeCloseTo(row.speed, 1);
    expect(jet.diameter * 1e3).toBeCloseTo(row.diameter, 1);
    expect(jet.power * 1e3).toBeCloseTo(row.power, 0);
    expect(jet.momentum * 1e3).toBeCloseTo(row.momentum, 0);
  });
  it('stirs deeper from higher up until it breaks, then less (Park et al. 2025, in kind)', () => {
    const depth = (h: number) => jetOf(5e-3, h, 366.15, p).mixingDepth;
    expect(depth(0.2)).toBeGreaterThan(depth(0.1));
    expect(depth(0.29)).toBeGreaterThan(depth(0.2));
    expect(depth(0.35)).toBeLessThan(depth(0.29));
  });
  it('cools on its way down, more from higher up, and not at all from nowhere', () => {
    const at = (h: number) => streamTemperature(366.15, 295.15, 5e-3, h, 4197, p);
    expect(at(0)).toBe(366.15);
    expect(366.15 - at(0.2)).toBeGreaterThan(1);
    expect(366.15 - at(0.2)).toBeLessThan(2);
    expect(at(0.3)).toBeLessThan(at(0.2));
  });
});

describe('parameters', () => {
  it.each(PARAMETER_NAMES)('%s lies in its range and says where it comes from', (name) => {
    const { value, low, high, source, meaning } = PARAMETERS[name];
    expect(value).toBeGreaterThanOrEqual(low);
    expect(value).toBeLessThanOrEqual(high);
    expect(source).not.toBe('');
    expect(meaning).not.toBe('');
  });
  it('share all that is extractable among the solute groups', () => {
    expect(SOLUTES.length).toBeGreaterThanOrEqual(6);
    expect(SOLUTES.reduce((sum, s) => sum + s.share, 0)).toBeCloseTo(1, 12);
  });
  it('are sampled within their ranges, half below the default and half above', () => {
    const samples = sampleParameters(40);
    for (const name of PARAMETER_NAMES) {
      const { value, low, high } = PARAMETERS[name];
      expect(Math.min(...samples.map((s) => s[name]))).toBeGreaterThanOrEqual(low);
      expect(Math.max(...samples.map((s) => s[name]))).toBeLessThanOrEqual(high);
      if (low === value || high === value) continue;
      const below = samples.filter((s) => s[name] < value).length;
      expect(below).toBe(20);
    }
  });
});

describe('bands', () => {
  it('hold low ≤ mid ≤ high, say how many runs, and give the same bits twice', { timeout: 60_000 }, () => {
    const bands = simulateBands(demoBundle(), 16)!;
    expect(bands.runs).toBe(16);
    for (const band of [bands.beverage_g, bands.strength_pct, bands.yield_pct, bands.peak_bed_C]) {
      expect(band.low).toBeLessThanOrEqual(band.mid);
      expect(band.mid).toBeLessThanOrEqual(band.high);
      expect(band.high).toBeGreaterThan(band.low);
    }
    expect(simulateBands(demoBundle(), 16)).toEqual(bands);
  });
  it('stop when told to', () => {
    expect(simulateBands(demoBundle(), 8, (done) => done < 0.3)).toBeNull();
  });
});

describe('fingerprint', () => {
  it('is the same for the same value and differs for another', () => {
    expect(fingerprint({ a: 1 })).toBe(fingerprint({ a: 1 }));
    expect(fingerprint({ a: 1 })).not.toBe(fingerprint({ a: 2 }));
    expect(fingerprint('')).toMatch(/^[0-9a-f]{16}$/);
  });
});
