import { describe, expect, it } from 'vitest';
import data from '../../../reference/water-units/check-values.json' with { type: 'json' };
import { molarMass } from './atoms.ts';
import { alkalinity, chargeImbalance, hardness, type IonField, type Ions, ionSum } from './basics.ts';
import { convertHardness, type HardnessUnit } from './hardness-units.ts';

const none: Ions = {
  calcium_mg_L: 0,
  magnesium_mg_L: 0,
  sodium_mg_L: 0,
  potassium_mg_L: 0,
  bicarbonate_mg_L: 0,
  chloride_mg_L: 0,
  sulfate_mg_L: 0,
  nitrate_mg_L: 0,
};

describe('units of hardness, against values worked by hand from the definitions', () => {
  it.each(data.conversions)('1 $unit', (row) => {
    const unit = row.unit as HardnessUnit;
    expect(Math.abs(convertHardness(1, unit, 'mmol_L') - row.mmol_L)).toBeLessThanOrEqual(1e-6);
    expect(Math.abs(convertHardness(1, unit, 'mg_L_CaCO3') - row.mg_L_CaCO3)).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(convertHardness(1, unit, 'meq_L') - row.meq_L)).toBeLessThanOrEqual(1e-5);
    expect(convertHardness(convertHardness(7.3, unit, 'gpg'), 'gpg', unit)).toBeCloseTo(7.3, 12);
  });
  it.each(Object.entries(data.per_mg))('1 mg/L %s is %s mg/L as CaCO3', (field, factor) => {
    const one: Ions = { ...none, [field as IonField]: 1 };
    expect(Math.abs(hardness(one) + alkalinity(one) - factor)).toBeLessThanOrEqual(1e-4);
  });
});

describe('molar masses', () => {
  it.each(data.salts)('$salt', ({ formula, molarMass: expected, jecfa }) => {
    expect(Math.abs(molarMass(formula) - expected)).toBeLessThanOrEqual(0.0015);
    if (jecfa !== undefined) expect(Math.abs(molarMass(formula) - jecfa)).toBeLessThanOrEqual(0.02);
  });
});

describe('waters worked by hand', () => {
  it.each(data.waters)('$name', ({ ions, sum, hardness: gh, alkalinity: kh }) => {
    expect(ionSum(ions)).toBeCloseTo(sum, 1);
    expect(Math.abs(hardness(ions) - gh)).toBeLessThanOrEqual(0.06);
    expect(Math.abs(alkalinity(ions) - kh)).toBeLessThanOrEqual(0.06);
    expect(Math.abs(chargeImbalance(ions))).toBeLessThan(0.1);
  });
});
