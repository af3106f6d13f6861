import { checkLabel, readPlainWater } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { EMPTY_LABEL, type LabelFields, plainOf, readable, takeProposal } from './label-fields.ts';

/** A hard spring whose sulfate is printed, and whose bicarbonate counts as calcium carbonate. */
const SPRING: LabelFields = {
  ...EMPTY_LABEL,
  name: 'Spring',
  ions: { calcium_mg_L: 80, magnesium_mg_L: 12, bicarbonate_mg_L: 200, sulfate_mg_L: 48 },
};

const checked = (fields: LabelFields) => {
  const read = readPlainWater(plainOf(fields));
  if (!read.ok) throw new Error(read.problems[0]!.sentence);
  return checkLabel(read.value);
};

describe('a typed label', () => {
  it('leaves out what is not printed, and reads figures in the unit they are printed in', () => {
    const plain = plainOf({
      ...EMPTY_LABEL,
      ion_unit: 'meq_L',
      ions: { calcium_mg_L: 2, chloride_mg_L: null, sodium_mg_L: '' },
      hardness: 5,
      hardness_unit: 'dH',
    });
    expect(plain).toEqual({
      // 2 meq/L of calcium is 1 mmol/L: 40.078 mg/L.
      calcium_mg_L: 40.078,
      // A German degree is 10 mg of CaO per litre by definition: 17.848 mg/L as CaCO3.
      hardness_mg_L_CaCO3: expect.closeTo(89.24, 2),
    });
  });

  it('passes on what is no number, to be refused with a sentence, and reads the rest without it', () => {
    const typed = { ...SPRING, pH: 'sour', ions: { ...SPRING.ions, sodium_mg_L: -3 } };
    const plain = plainOf(typed);
    const read = readPlainWater(plain);
    if (read.ok) throw new Error('a sour pH was read');
    expect(read.problems.map(({ path }) => path[0])).toEqual(['sodium_mg_L', 'pH']);
    const rest = readPlainWater(readable(plain, read.problems));
    expect(rest.ok && Object.keys(rest.value.ions)).toEqual(Object.keys(SPRING.ions));
  });

  it('balances once a proposal is taken, in the unit of the label', () => {
    for (const ion_unit of ['mg_L', 'mmol_L']) {
      const factor = ion_unit === 'mg_L' ? 1 : 1 / 40.078;
      const fields: LabelFields = { ...EMPTY_LABEL, ion_unit, ions: { calcium_mg_L: 80 * factor } };
      const { proposals, imbalance_pct } = checked(fields);
      expect(imbalance_pct).toBeCloseTo(100, 6);
      const missing = proposals.find(({ by, fields: of }) => by === 'missing' && of[0] === 'chloride_mg_L')!;
      const taken = takeProposal(fields, missing.fields, missing.ions);
      expect(taken.ion_unit).toBe(ion_unit);
      expect(Math.abs(checked(taken).imbalance_pct)).toBeLessThan(0.05);
    }
  });

  it('offers to read bicarbonate as calcium carbonate where that closes the balance', () => {
    const { proposals } = checked(SPRING);
    expect(proposals.some(({ by, fields }) => by === 'as_CaCO3' && fields.includes('bicarbonate_mg_L'))).toBe(
      true,
    );
  });
});
