import {
  compositionOf,
  type SaltForm,
  solveWithConcentrates,
  USUAL_METER,
  usualInstruments,
  type WaterOrder,
} from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { verdictsOf } from './bottle-verdicts.ts';

const EPSOM: SaltForm = { salt: 'magnesium_sulfate', hydrate: 7 };

/** 0.15 mmol/kg of magnesium in a kilogram of pure water: 36.97 mg of MgSO4·7H2O on a balance of 0.01 g. */
const order = (): WaterOrder => ({
  waters: [
    {
      id: 'w',
      name: 'Water',
      batch_g: 1000,
      poured_g: null,
      targets: [{ of: 'hardness', aim: 14.97, low: null, high: null, weight: 1, hard: false }],
    },
  ],
  bases: [
    {
      id: 'pure',
      name: 'Purified water',
      of: compositionOf({
        calcium_mg_L: 0,
        magnesium_mg_L: 0,
        sodium_mg_L: 0,
        potassium_mg_L: 0,
        bicarbonate_mg_L: 0,
        chloride_mg_L: 0,
        sulfate_mg_L: 0,
        nitrate_mg_L: 0,
      }),
      price_per_L: null,
      uncertainty_pct: 0,
    },
  ],
  jars: [
    {
      id: 'jar',
      name: 'Magnesium sulfate',
      form: EPSOM,
      assay_pct: [98, 102],
      amount_g: null,
      price_per_kg: null,
    },
  ],
  concentrates: [],
  instruments: usualInstruments(USUAL_METER),
});

describe('weigh it or dose it', () => {
  const { straight, concentrates } = solveWithConcentrates(order(), {
    given_by: 'balance',
    batches: 4,
    container_mL: null,
  });

  it('says for each salt of each water how sure both ways are', () => {
    const [verdict, ...others] = verdictsOf(straight, concentrates, new Map([['jar', EPSOM]]), 0.01);
    expect(others).toEqual([]);
    expect(verdict).toMatchObject({ water: 'Water', salt: 'Magnesium sulfate' });
    // Two readings of a display with steps of 0.01 g: 0.01/√6 g = 4.08 mg (GUM 4.3.7), 11.0 % of 36.97 mg.
    expect(verdict!.of.straight).toBeCloseTo(0.11, 2);
    expect(verdict!.of.through).toBeLessThan(0.02);
    expect(verdict!.of.advice).toBe('concentrate');
  });

  it('says nothing of salts that have no bottle', () => {
    expect(verdictsOf(straight, [], new Map([['jar', EPSOM]]), 0.01)).toEqual([]);
    expect(verdictsOf(straight, concentrates, new Map(), 0.01)).toEqual([]);
  });
});
