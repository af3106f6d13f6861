import { describe, expect, it } from 'vitest';
import data from '../../../reference/salt-solubility/check-values.json' with { type: 'json' };
import {
  checkConcentrate,
  concentrateDensity,
  concentrateFrom,
  molalities,
  solubilityAt,
} from './concentrates.ts';
import { anhydrousMass, formMass, type SaltForm, type SaltName } from './salts.ts';

const codesOf = (parts: { form: SaltForm; grams: number }[]) =>
  checkConcentrate({ name: 'Bottle', parts, water_g: 1000 }).map(({ level, code }) => `${level} ${code}`);
const millimoles = (salt: SaltName, hydrate: number, mmol: number) => ({
  form: { salt, hydrate },
  grams: (mmol / 1000) * formMass({ salt, hydrate }),
});

describe('how much dissolves', () => {
  it.each(data.anhydrous_per_100_g)('$salt at $celsius °C: $grams g', ({ salt, celsius, grams }) => {
    expect(solubilityAt(salt as SaltName, celsius).g_per_kg).toBeCloseTo(10 * grams, 6);
  });
  it.each(data.mol_per_kg)('$salt at $celsius °C: $mol mol', ({ salt, celsius, mol }) => {
    const found = solubilityAt(salt as SaltName, celsius).g_per_kg / anhydrousMass(salt as SaltName);
    expect(Math.abs(found / mol - 1)).toBeLessThan(0.005);
  });
  it('says for which temperature a figure is when it has no other', () => {
    expect(solubilityAt('magnesium_chloride', 5)).toEqual({ g_per_kg: 550, celsius: 20 });
  });
});

describe('bottles that PHREEQC finds oversaturated', () => {
  it('calcium chloride and magnesium sulfate, 50 mmol each: gypsum, index about +0.46 at 20 °C', () => {
    const parts = [millimoles('calcium_chloride', 2, 50), millimoles('magnesium_sulfate', 7, 50)];
    const found = checkConcentrate({ name: 'Bottle', parts, water_g: 1000 });
    const remark = found.find(({ code }) => code === 'will_precipitate')!;
    expect(remark.level).toBe('problem');
    expect(remark.sentence).toMatch(
      /^Bottle: gypsum precipitates at 5 °C \(index \+0\.5\d?\)\. Keep calcium chloride and magnesium sulfate in separate bottles\.$/,
    );
  });
  it('the same at 10 mmol stays clear; at 20 mmol it is in balance', () => {
    const at = (mmol: number) =>
      codesOf([millimoles('calcium_chloride', 2, mmol), millimoles('magnesium_sulfate', 7, mmol)]);
    expect(at(10).some((code) => code.includes('precipitate'))).toBe(false);
    expect(at(20)).toContain('caution may_precipitate');
  });
  it('calcium chloride and sodium bicarbonate, 5 mmol each: calcium carbonate', () => {
    const parts = [millimoles('calcium_chloride', 2, 5), millimoles('sodium_bicarbonate', 0, 5)];
    expect(codesOf(parts)).toContain('problem will_precipitate');
  });
  it.each([
    ['magnesium chloride and calcium chloride', 'magnesium_chloride', 6, 'calcium_chloride', 2],
    ['magnesium sulfate and magnesium chloride', 'magnesium_sulfate', 7, 'magnesium_chloride', 6],
    ['the two bicarbonates', 'sodium_bicarbonate', 0, 'potassium_bicarbonate', 0],
  ] as const)('%s go together', (_, a, ah, b, bh) => {
    expect(
      codesOf([millimoles(a, ah, 100), millimoles(b, bh, 100)]).some((c) => c.includes('precipitate')),
    ).toBe(false);
  });
});

describe('bottles that are too strong', () => {
  it('120 g of sodium bicarbonate in a kilogram of water: 96 g dissolve at 20 °C', () => {
    const found = checkConcentrate({
      name: 'Bottle',
      parts: [{ form: { salt: 'sodium_bicarbonate', hydrate: 0 }, grams: 120 }],
      water_g: 1000,
    });
    expect(found.filter(({ code }) => code === 'over_solubility').map(({ sentence }) => sentence)).toContain(
      'Bottle: 120 g of sodium bicarbonate per kg of water is more than dissolves at 20 °C (96 g). Make it weaker.',
    );
  });
  it('70 g would come out in the fridge', () => {
    const codes = codesOf([{ form: { salt: 'sodium_bicarbonate', hydrate: 0 }, grams: 70 }]);
    expect(codes).toContain('caution near_solubility');
    expect(codes).not.toContain('problem over_solubility');
  });
});

describe('a bottle', () => {
  const recipe = {
    name: 'Bottle',
    parts: [{ form: { salt: 'magnesium_sulfate', hydrate: 7 } as const, grams: 24.6466 }],
    water_g: 1000 - 24.6466,
  };
  it('counts the water of its crystals', () => {
    const water = (1000 - 24.6466 + (24.6466 * 7 * 18.015) / 246.466) / 1000;
    expect(molalities(recipe).magnesium).toBeCloseTo(0.1 / water, 9);
  });
  it('of 2.46 % magnesium sulfate weighs 1.010 kg/L (from memory of tables: 1.0103 for 1.2 % anhydrous)', () => {
    expect(Math.abs(concentrateDensity(recipe) - 1.0103)).toBeLessThan(0.002);
  });
  it('goes on the shelf with its strength, its salts and a caution never to drink it', () => {
    const bottle = concentrateFrom(recipe, { id: 'b', given_by: 'syringe', uncertainty_pct: 0.5 });
    expect(bottle.per_kg.magnesium).toBeCloseTo(0.1, 9);
    expect(bottle.made_of[0]!.g_per_kg).toBeCloseTo(24.6466, 6);
    const caution = checkConcentrate(recipe).find(({ code }) => code === 'not_for_drinking')!;
    expect(caution.sentence).toContain('never drunk, kept from children');
    expect(caution.sentence).toMatch(/holds 12\d mg of magnesium/);
  });
});
