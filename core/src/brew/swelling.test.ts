import { describe, expect, it } from 'vitest';
import { compileCase } from './compile.ts';
import { defaultParameters } from './parameters.ts';
import { simulate } from './simulate.ts';
import { meanSwelling, mostSwelling, swellBed, swellingAt } from './swelling.ts';
import { demoBundle } from './testing/demo-bundle.ts';

describe('a grain in hot water', () => {
  it('grows to 15 % by 4 min and to 60–80 % of that by 30 s (Hargarten et al. 2020, second-hand)', () => {
    expect(swellingAt(0.15, 240)).toBeCloseTo(0.15, 4);
    expect(swellingAt(0.15, 30) / 0.15).toBeGreaterThan(0.6);
    expect(swellingAt(0.15, 30) / 0.15).toBeLessThan(0.8);
    expect(swellingAt(0.15, 0)).toBeCloseTo(0, 15);
  });
  it('does not grow when swelling is off (Maille et al. 2021, second-hand)', () => {
    for (const time of [0, 30, 300]) expect(swellingAt(0, time)).toBeCloseTo(0, 15);
  });
  it.each([1, 40, 150, 600])('has the mean over %s s that its course has', (span) => {
    const n = 2_000;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += swellingAt(0.15, (span * (i + 0.5)) / n);
    expect(meanSwelling(0.15, span)).toBeCloseTo(sum / n, 7);
  });
  it('has not grown before any water', () => {
    expect(meanSwelling(0.15, 0)).toBe(0);
  });
});

describe('a bed of swollen grains', () => {
  it('is the bed it was without growth', () => {
    expect(swellBed(0.4, 0, 0.3)).toEqual({ volume: 1, porosity: 0.4, permeability: 1 });
  });
  it('keeps the space between its grains when it rises by all they grow, in a larger bed', () => {
    const { volume, porosity, permeability } = swellBed(0.4, 0.15, 0);
    expect(volume).toBeCloseTo(1.15 ** 3, 12);
    expect(porosity).toBeCloseTo(0.4 / (0.4 + 0.6 * volume), 12);
    // k = ε³/(5 S² (1−ε)²), S = 6/d (Carman 1937, from memory), before and after.
    const k = (e: number, d: number) => (e ** 3 * d * d) / (180 * (1 - e) ** 2);
    expect(permeability).toBeCloseTo(k(porosity, 1.15) / k(0.4, 1), 12);
  });
  it('closes when it cannot rise: all the growth comes from the space between the grains', () => {
    const bed = swellBed(0.4, 0.1, 1);
    expect(bed.porosity).toBeCloseTo(1 - 0.6 * 1.1 ** 3, 12);
    expect(bed.permeability).toBeLessThan(0.2);
  });
  it.each([0, 0.3, 1])('reaches the least porosity at the most swelling, with %s from the pores', (into) => {
    const most = mostSwelling(0.4, into, 0.05);
    expect(swellBed(0.4, most, into).porosity).toBeCloseTo(0.05, 9);
  });
});

describe('swelling in a brew', () => {
  const brew = (swelling: number, swellingIntoPores: number) => {
    const bundle = demoBundle();
    bundle.plan.lift_s = null;
    const parameters = { ...defaultParameters(), swelling, swellingIntoPores };
    return {
      result: simulate(bundle, { resolution: 'draft', parameters }),
      c: compileCase(bundle, parameters, 'draft'),
    };
  };
  it('is off by default', () => {
    expect(defaultParameters().swelling).toBe(0);
    expect(brew(0, 1).result.cup).toEqual(brew(0, 0).result.cup);
  });
  it('slows the drain of a bed that closes, the more it does', () => {
    const times = [0, 0.1, 0.5].map((into) => brew(0.15, into).result.cup.drawdown_s!);
    expect(times[1]).toBeGreaterThan(times[0]!);
    expect(times[2]).toBeGreaterThan(times[1]!);
  });
  it('fills what the grains grow by with water, and loses none', () => {
    const off = brew(0, 0.1);
    const on = brew(0.15, 0.1);
    const growth = on.c.grains.poreVolume - off.c.grains.poreVolume;
    const solid = 1 / off.c.grains.envelopeDensity;
    expect(growth).toBeCloseTo(1 / on.c.grains.envelopeDensity - solid, 12);
    expect(on.result.cup.held_g).toBeGreaterThan(off.result.cup.held_g + 5);
    expect(on.result.closure.water).toBeLessThan(1e-10);
  });
});
