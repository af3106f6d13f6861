import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  alkalinity,
  chargeImbalance,
  compositeWater,
  hardness,
  ION_FIELDS,
  type IonField,
  type Ions,
  ionSum,
} from './basics.ts';

const ions: fc.Arbitrary<Ions> = fc.record(
  Object.fromEntries(
    ION_FIELDS.map((field) => [field, fc.double({ min: 0, max: 500, noNaN: true })]),
  ) as Record<IonField, fc.Arbitrary<number>>,
);
const pure = Object.fromEntries(ION_FIELDS.map((field) => [field, 0])) as unknown as Ions;

describe('charge imbalance', () => {
  it('is 0 for water without ions and ±100 % for one sign alone', () => {
    expect(chargeImbalance(pure)).toBe(0);
    expect(chargeImbalance({ ...pure, calcium_mg_L: 40 })).toBe(100);
    expect(chargeImbalance({ ...pure, sulfate_mg_L: 40 })).toBe(-100);
  });
  it('names the missing half: calcium without its anions beside balanced table salt', () => {
    // NaCl 1 mmol/L and Ca 0.5 mmol/L: cations 2 meq, anions 1 meq, so (2 − 1)/(2 + 1).
    const water = { ...pure, sodium_mg_L: 22.99, chloride_mg_L: 35.45, calcium_mg_L: 20.039 };
    expect(chargeImbalance(water)).toBeCloseTo(100 / 3, 9);
  });
});

describe('composite water', () => {
  it('is linear in the poured mass for every ion and for what is made of them', () => {
    fc.assert(
      fc.property(ions, ions, fc.double({ min: 0.1, max: 900, noNaN: true }), (a, b, mass) => {
        const mixed = compositeWater([
          { ions: a, mass },
          { ions: b, mass: 100 },
        ]);
        const share = mass / (mass + 100);
        for (const of of [hardness, alkalinity, ionSum])
          expect(of(mixed)).toBeCloseTo(share * of(a) + (1 - share) * of(b), 8);
      }),
      { seed: 20261125 },
    );
  });
  it('leaves out a water of which nothing is poured', () => {
    const hard = { ...pure, calcium_mg_L: 80 };
    expect(
      compositeWater([
        { ions: pure, mass: 0 },
        { ions: hard, mass: 3 },
      ]),
    ).toEqual(hard);
  });
  it('refuses masses that cannot be', () => {
    expect(() => compositeWater([])).toThrow('no mass at all');
    expect(() => compositeWater([{ ions: pure, mass: -1 }])).toThrow('mass -1');
    expect(() => compositeWater([{ ions: pure, mass: Number.NaN }])).toThrow('mass NaN');
  });
});
