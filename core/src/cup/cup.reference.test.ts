import { describe, expect, it } from 'vitest';
import data from '../../../reference/brew-balance/check-values.json' with { type: 'json' };
import brix from '../../../reference/brix-strength/check-values.json' with { type: 'json' };
import { brewRatio, immersionYield, percolationBalance, percolationYield } from './mass-balance.ts';
import { PUBLISHED_BRIX, strengthFromBrix } from './refractometer.ts';
import { measuredYield, withinLimit } from './uncertainty.ts';

describe('percolation balance, against one worked by hand', () => {
  const row = data.percolation;
  const balance = percolationBalance({
    water: row.water_g,
    dose: row.dose_g,
    held: row.held_g_g,
    cupYield: row.cup_yield,
    heldStrength: row.held_strength,
  });
  it('gives beverage, strength and total yield', () => {
    expect(Math.abs(balance.beverage - row.beverage_g)).toBeLessThanOrEqual(row.beverage_tolerance_g);
    expect(Math.abs(balance.strength * 100 - row.strength_pct)).toBeLessThanOrEqual(
      row.strength_tolerance_pct,
    );
    expect(balance.totalYield * 100).toBeCloseTo(row.total_yield_pct, 9);
  });
  it('is undone by the yield of the beverage', () => {
    expect(percolationYield(balance.strength, balance.beverage, row.dose_g)).toBeCloseTo(row.cup_yield, 12);
  });
  it('counts vapour against the beverage, gram for gram', () => {
    const drier = percolationBalance({
      water: row.water_g,
      dose: row.dose_g,
      held: row.held_g_g,
      cupYield: row.cup_yield,
      heldStrength: row.held_strength,
      evaporated: 3,
    });
    expect(balance.beverage - drier.beverage).toBeCloseTo(3, 9);
  });
});

describe('immersion yield, against the equilibrium of Liang et al. 2021 (constants from memory)', () => {
  const { K, E_max, rows } = data.immersion;
  it.each(rows)('ratio $ratio gives K E_max back from $strength_pct %', ({ ratio, strength_pct }) => {
    // Strength printed to 0.001 %, so the yield is good to ratio × 5e-6.
    expect(Math.abs(immersionYield(strength_pct / 100, ratio, 1) - K * E_max)).toBeLessThanOrEqual(
      ratio * 6e-6,
    );
    expect(brewRatio(ratio * 15, 15)).toBe(ratio);
  });
});

describe('refractometer, against the regression of Gómez', () => {
  it.each(brix.rows)('$brix °Brix', ({ brix: reading, strength_pct, tolerance_pct }) => {
    const read = strengthFromBrix(reading);
    expect(read.strength * 100).toBeCloseTo(strength_pct, 3);
    expect(read.uncertainty * 100).toBeLessThanOrEqual(tolerance_pct);
    expect(read.uncertainty * 100).toBeGreaterThan(0.9 * tolerance_pct);
  });
  it('spans every slope that was read', () => {
    expect(PUBLISHED_BRIX.slope).toBe(brix.slopes.regression);
    expect(PUBLISHED_BRIX.uncertainty).toBe(brix.slopes.regression_uncertainty);
    expect(PUBLISHED_BRIX.low).toBe(Math.min(...brix.slopes.others));
    expect(PUBLISHED_BRIX.high).toBe(Math.max(...brix.slopes.others));
    const read = strengthFromBrix(1.6);
    expect(read.low).toBeLessThan(read.strength);
    expect(read.high).toBeGreaterThan(read.strength);
  });
});

describe('uncertainty of the yield, against the figures of the trade', () => {
  const given = data.yield_uncertainty;
  it.each(given.rows)('strength ± $strength_uncertainty_pct %', (row) => {
    const found = measuredYield(
      { value: given.strength_pct / 100, uncertainty: row.strength_uncertainty_pct / 100 },
      { value: given.beverage_g, uncertainty: withinLimit(given.beverage_limit_g) },
      { value: given.dose_g, uncertainty: withinLimit(given.dose_limit_g) },
    );
    expect(found.value * 100).toBeCloseTo(19.7, 1);
    expect(Math.abs(found.uncertainty * 100 - row.yield_uncertainty_pct)).toBeLessThanOrEqual(0.005);
  });
});
