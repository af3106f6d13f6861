import { describe, expect, it } from 'vitest';
import data from '../../../reference/water-units/check-values.json' with { type: 'json' };
import { acidNeutralised, protonatedShare } from './acid.ts';
import { CACO3 } from './atoms.ts';
import { excessCharge } from './composition.ts';
import { formMass, formulaOf, hydrateFactor, perGram, SALT_NAMES, SALTS, type SaltForm } from './salts.ts';

const FORMS: Readonly<Record<string, SaltForm>> = {
  'MgSO4.7H2O': { salt: 'magnesium_sulfate', hydrate: 7 },
  'CaCl2.2H2O': { salt: 'calcium_chloride', hydrate: 2 },
  'MgCl2.6H2O': { salt: 'magnesium_chloride', hydrate: 6 },
  NaHCO3: { salt: 'sodium_bicarbonate', hydrate: 0 },
  KHCO3: { salt: 'potassium_bicarbonate', hydrate: 0 },
  CaCO3: { salt: 'calcium_carbonate', hydrate: 0 },
};

describe('forms of salts', () => {
  it.each(data.salts)('$salt weighs what its formula says', ({ salt, molarMass }) => {
    expect(Math.abs(formMass(FORMS[salt]!) - molarMass)).toBeLessThanOrEqual(0.01);
    expect(formulaOf(FORMS[salt]!)).toBe(salt.replace('.', '·'));
  });
  it('brings as much positive charge as negative, whatever the salt', () => {
    for (const salt of SALT_NAMES)
      for (const hydrate of SALTS[salt].hydrates)
        expect(Math.abs(excessCharge(perGram({ salt, hydrate })))).toBeLessThan(1e-17);
  });
  it('anhydrous magnesium sulfate is 2.05 times the heptahydrate', () => {
    const factor = hydrateFactor(FORMS['MgSO4.7H2O']!, { salt: 'magnesium_sulfate', hydrate: 0 });
    expect(Math.abs(factor - 2.0477)).toBeLessThan(1e-3);
  });
  it.each([
    // Common practice, mg/L as CaCO3 from 1 g/L.
    ['MgSO4.7H2O', 406],
    ['MgCl2.6H2O', 492],
    ['CaCl2.2H2O', 681],
  ])('1 g/L of %s is %s mg/L of hardness', (salt, hardness) => {
    const { calcium, magnesium } = perGram(FORMS[salt]!);
    expect(Math.abs(1000 * CACO3 * (calcium + magnesium) - hardness)).toBeLessThanOrEqual(0.6);
  });
  it.each([
    ['KHCO3', 500],
    ['NaHCO3', 596],
  ])('1 g/L of %s is %s mg/L of alkalinity', (salt, alkalinity) => {
    expect(Math.abs(500 * CACO3 * perGram(FORMS[salt]!).alkalinity - alkalinity)).toBeLessThanOrEqual(0.6);
  });
});

describe('acid taken up by the alkalinity', () => {
  // 1/(1 + 10^(pH − 6.352)), pK1 of Plummer & Busenberg 1982.
  it.each([
    [4.5, 0.986],
    [4.8, 0.973],
    [5, 0.957],
    [5.2, 0.934],
    [5.5, 0.877],
  ])('at pH %s the share is %s', (pH, share) => {
    expect(Math.abs(protonatedShare(pH) - share)).toBeLessThanOrEqual(6e-4);
  });
  it('is 0.77 mmol per kg for 40 mg/L as CaCO3 at pH 5, and a fifth of that in 200 g', () => {
    const found = acidNeutralised(40 / 50.043 / 1000, 200, 5);
    expect(Math.abs(found.per_kg_mmol - 0.765)).toBeLessThan(1e-3);
    expect(found.per_cup_mmol).toBeCloseTo(found.per_kg_mmol / 5, 12);
    expect(found.of_titratable_pct).toBeNull();
  });
  it('is a share of all acid once the drink was titrated', () => {
    const found = acidNeutralised(1e-3, 200, 5, { titratable_mmol_kg: 4, drink_g: 170 });
    expect(found.of_titratable_pct).toBeCloseTo((100 * found.per_cup_mmol) / (found.per_cup_mmol + 0.68), 9);
  });
});
