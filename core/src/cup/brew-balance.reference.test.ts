import { describe, expect, it } from 'vitest';
import data from '../../../reference/brew-balance/check-values.json' with { type: 'json' };
import { type BrewFigures, brewBalance } from './brew-balance.ts';
import { immersionYield, percolationBalance } from './mass-balance.ts';
import { propagate } from './propagate.ts';
import { beforeEvaporation } from './readings.ts';
import { measuredYield, withinLimit } from './uncertainty.ts';

const exact = (value: number) => ({ value, uncertainty: 0 });
const figures = (given: Partial<BrewFigures>): BrewFigures => ({
  method: 'percolation',
  dose: exact(20),
  water: null,
  beverage: null,
  strength: null,
  bypass: exact(0),
  evaporated: exact(0),
  heldStrength: exact(0),
  spent: null,
  paper: exact(1.5),
  ...given,
});

describe('the balance of a brew, against one worked by hand', () => {
  const row = data.percolation;
  const forward = percolationBalance({
    water: row.water_g,
    dose: row.dose_g,
    held: row.held_g_g,
    cupYield: row.cup_yield,
    heldStrength: row.held_strength,
    evaporated: 2,
  });
  const balance = brewBalance(
    figures({
      dose: exact(row.dose_g),
      water: exact(row.water_g),
      beverage: exact(forward.beverage),
      strength: exact(forward.strength),
      evaporated: exact(2),
      heldStrength: exact(row.held_strength),
    }),
  );
  it('gives back what went in: yield, held liquid, total yield, ratio', () => {
    expect(balance.yield!.value).toBeCloseTo(row.cup_yield, 12);
    expect(balance.heldPerDose!.value).toBeCloseTo(row.held_g_g, 10);
    expect(balance.totalYield!.value).toBeCloseTo(row.total_yield_pct / 100, 10);
    expect(balance.ratio!.value).toBe(row.water_g / row.dose_g);
  });
  it('closes on the spent grounds: what is missing is what was taken off', () => {
    const spent = row.dose_g * (1 - row.total_yield_pct / 100) + row.held_g_g * row.dose_g + 1.5;
    const closed = (off: number) =>
      brewBalance(
        figures({
          dose: exact(row.dose_g),
          water: exact(row.water_g),
          beverage: exact(forward.beverage),
          strength: exact(forward.strength),
          evaporated: exact(2),
          spent: exact(spent - off),
        }),
      ).unaccounted!.value;
    expect(closed(0)).toBeCloseTo(0, 9);
    expect(closed(3)).toBeCloseTo(3, 9);
  });
  it('of an immersion takes the strength before water was added', () => {
    // 200 g of liquid at 1.5 % out of 240 g of water, then 50 g of water on top.
    const plain = figures({
      method: 'immersion',
      water: exact(240),
      beverage: exact(200),
      strength: exact(0.015),
    });
    const longer = {
      ...plain,
      beverage: exact(250),
      strength: exact((0.015 * 200) / 250),
      bypass: exact(50),
    };
    expect(brewBalance(plain).yield!.value).toBeCloseTo(immersionYield(0.015, 240, 20), 12);
    expect(brewBalance(longer).yield!.value).toBeCloseTo(immersionYield(0.015, 240, 20), 12);
    expect(brewBalance(longer).held!.value).toBeCloseTo(brewBalance(plain).held!.value, 10);
  });
  it('leaves open what was not measured', () => {
    expect(brewBalance(figures({ water: exact(300) }))).toMatchObject({
      yield: null,
      held: null,
      unaccounted: null,
      ratio: { value: 15 },
    });
  });
});

describe('propagation of doubts', () => {
  const strength = { value: 0.0142, uncertainty: 0.0003 };
  const beverage = { value: 222, uncertainty: withinLimit(0.5) };
  const dose = { value: 16, uncertainty: withinLimit(0.05) };
  const found = propagate((x) => (x.strength * x.beverage) / x.dose, { strength, beverage, dose });
  it('agrees with the formula of GUM 5.1.6 for a product', () => {
    const formula = measuredYield(strength, beverage, dose);
    expect(found.value).toBeCloseTo(formula.value, 14);
    expect(found.uncertainty / formula.uncertainty).toBeCloseTo(1, 4);
  });
  it('names its causes, the largest first, with shares that make 1', () => {
    expect(found.causes.map(({ cause }) => cause)).toEqual(['strength', 'dose', 'beverage']);
    expect(found.causes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });
  it('takes correlation through the formula: x − x is sure, whatever x', () => {
    expect(propagate((i) => i.x - i.x, { x: { value: 3, uncertainty: 1 } })).toMatchObject({
      value: 0,
      uncertainty: 0,
    });
  });
});

describe('a sample that lost a hundredth to the air', () => {
  it('reads 1.434 for 1.420 %, the figure of the trade', () => {
    expect(0.0142 / (1 - 0.01)).toBeCloseTo(0.01434, 5);
    expect(beforeEvaporation(0.0142 / 0.99, 0.01)).toBeCloseTo(0.0142, 12);
  });
});
