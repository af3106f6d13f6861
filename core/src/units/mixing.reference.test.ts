import { describe, expect, it } from 'vitest';
import data from '../../../reference/brew-balance/check-values.json' with { type: 'json' };
import { celsius, GRAM, kelvin } from './convert.ts';
import { mixingTemperature } from './mixing.ts';

describe('adiabatic mixing, against balances worked by hand', () => {
  const { coffee, waterHeatCapacity, tolerance, rows } = data.mixing;
  it.each(rows)('$coffee_g g of grounds and $water_g g of water at $water_C °C', (row) => {
    const mixed = mixingTemperature([
      { mass: row.coffee_g * GRAM, heatCapacity: coffee.heatCapacity, temperature: kelvin(coffee.t) },
      { mass: row.water_g * GRAM, heatCapacity: waterHeatCapacity, temperature: kelvin(row.water_C) },
    ]);
    expect(Math.abs(celsius(mixed) - row.mixed_C)).toBeLessThanOrEqual(tolerance);
  });
  it('lies between the parts and keeps their heat', () => {
    const parts = [
      { mass: 0.3, heatCapacity: 840, temperature: 295 },
      { mass: 0.02, heatCapacity: 1620, temperature: 293 },
      { mass: 0.25, heatCapacity: 4205, temperature: 366 },
    ];
    const T = mixingTemperature(parts);
    expect(T).toBeGreaterThan(293);
    expect(T).toBeLessThan(366);
    expect(parts.reduce((sum, p) => sum + p.mass * p.heatCapacity * (p.temperature - T), 0)).toBeCloseTo(
      0,
      8,
    );
  });
});
