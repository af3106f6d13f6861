import { describe, expect, it } from 'vitest';
import data from '../../../reference/cup-cooling/check-values.json' with { type: 'json' };
import { kelvin, vapourPressure } from '../units/index.ts';
import { type Air, filled, letStand, liquidTemperature, makeCooling, type Standing } from './cooling.ts';
import { defaultParameters } from './parameters.ts';
import { type Make, vesselOf } from './vessel.ts';

const p = defaultParameters();
const air: Air = {
  temperature: kelvin(22),
  pressure: 101_325,
  vapourPressure: vapourPressure(kelvin(22), 0.5),
  surfaceFactor: p.surfaceFactor,
};

describe('an insulated mug (reference/cup-cooling)', () => {
  const { mug } = data;
  const make: Make = {
    material: 'stainless_steel',
    mass_g: 250,
    inner_diameter_mm: mug.diameter_mm,
    capacity_mL: 350,
    double_wall: true,
  };
  /** What leaves to the surroundings in the first seconds [W], liquid and wall being equally hot. */
  const watts = (lid: boolean): number => {
    const vessel = vesselOf(make, 0.3, p.wallOutside, { lid, whole: true });
    const end = letStand(makeCooling(vessel, air), filled(vessel, 0, 0.3, mug.water_C, mug.water_C), 2);
    return (end.vapour + end.surface + end.wall) / 2;
  };
  it('loses 30–70 W when open', () => {
    expect(watts(false)).toBeGreaterThan(mug.least_W);
    expect(watts(false)).toBeLessThan(mug.most_W);
  });
  it('loses about a seventh under its lid', () => {
    expect(Math.abs(watts(false) / watts(true) - mug.lid_factor)).toBeLessThan(mug.lid_tolerance);
  });
});

describe('tasting bowls (reference/cup-cooling)', () => {
  const { bowls } = data;
  /** Time to fall below the limit [s] of a bowl filled with brew of 90 °C. */
  const falls = (material: Make['material'], mass_g: number, filling_g: number): number => {
    const make = {
      material,
      mass_g,
      inner_diameter_mm: bowls.width_mm,
      capacity_mL: 230,
      double_wall: false,
    };
    const water = filling_g / 1e3;
    const vessel = vesselOf(make, water, p.wallOutside, { lid: false, whole: false });
    const cool = (s: Standing): boolean => liquidTemperature(s) < bowls.below_C;
    return letStand(makeCooling(vessel, air), filled(vessel, 0, water, 90, 22), 6_000, undefined, cool).time;
  };
  it('hold their heat twice as long in thin plastic as in heavy cold porcelain', () => {
    const [least, most] = bowls.fillings_g.map(
      (filling) =>
        falls('polypropylene', bowls.plastic.mass_g, filling) /
        falls('porcelain', bowls.porcelain.mass_g, filling),
    );
    const quoted = bowls.plastic.after_s / bowls.porcelain.after_s;
    expect(Math.min(least!, most!)).toBeLessThan(quoted * 1.05);
    expect(Math.max(least!, most!)).toBeGreaterThan(quoted * 0.95);
  });
});
