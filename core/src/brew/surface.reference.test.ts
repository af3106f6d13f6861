import { describe, expect, it } from 'vitest';
import table from '../../../reference/open-surface/loss.json' with { type: 'json' };
import { latentHeat, vapourPressure } from '../units/index.ts';
import { surfaceLoss } from './surface.ts';

/** Loss of a free surface [W/m²] at a temperature of the table. */
function lossAt(surface_C: number, diameter: number): { evaporation: number; total: number } {
  const out = new Float64Array(2);
  const air = table.air_C + 273.15;
  const T = surface_C + 273.15;
  surfaceLoss(T, air, 101_325, vapourPressure(air, table.humidity), diameter, out);
  return { evaporation: out[0]!, total: out[0]! * latentHeat(T) + out[1]! * (T - air) };
}

describe('loss of an open surface (reference/open-surface)', () => {
  it.each(table.rows)('at $surface_C °C evaporates $evaporation_g_m2_s g/m²s', (row) => {
    const { evaporation, total } = lossAt(row.surface_C, table.diameter_m);
    expect(evaporation * 1e3).toBeGreaterThan(row.evaporation_g_m2_s * (1 - table.tolerance));
    expect(evaporation * 1e3).toBeLessThan(row.evaporation_g_m2_s * (1 + table.tolerance));
    expect(Math.abs(total / row.total_W_m2 - 1)).toBeLessThan(table.tolerance);
  });
  it('with the default surface factor, an 8 cm surface near 90 °C loses 30–70 W (one mug experiment: about 40 W)', () => {
    const watts = 0.6 * lossAt(90, 0.08).total * Math.PI * 0.04 ** 2;
    expect(watts).toBeGreaterThan(30);
    expect(watts).toBeLessThan(70);
  });
});
