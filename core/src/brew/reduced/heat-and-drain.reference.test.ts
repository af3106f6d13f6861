/** Mode 4, no solutes: a draining bed and heat alone, against exact answers. */
import { describe, expect, it } from 'vitest';
import retention from '../../../../reference/bed-retention/retention.json' with { type: 'json' };
import balance from '../../../../reference/brew-balance/check-values.json' with { type: 'json' };
import drain from '../../../../reference/darcy-drain/drain.json' with { type: 'json' };
import { runCase } from '../run.ts';
import {
  coolingCurve,
  coolingVessel,
  type Drain,
  drainEnd,
  drainHead,
  drainingBed,
  mixingVessel,
  saturatedBed,
} from './heat-and-drain.ts';
import { heldByBed, temperatureSpan } from './read.ts';

const bed = (temperature_C: number): Drain => ({
  permeability: drain.permeability_m2,
  depth: drain.bed_depth_m,
  head: drain.head_m,
  temperature: temperature_C + 273.15,
});

describe('mode 4: a saturated bed draining (Darcy, exact; reference/darcy-drain)', () => {
  it.each(drain.rows)(
    'at $temperature_C °C the surface reaches the bed after $surface_reaches_bed_s s',
    (row) => {
      const d = bed(row.temperature_C);
      expect(Math.abs(drainEnd(d) / row.surface_reaches_bed_s - 1)).toBeLessThan(0.005);
      const run = runCase(drainingBed(d));
      expect(Math.abs(run.headGone! / row.surface_reaches_bed_s - 1)).toBeLessThan(drain.tolerance);
      const { time_s, head_mm } = run.recorder.finish();
      for (let i = 0; i < time_s.length; i += 5)
        expect(Math.abs(head_mm[i]! - drainHead(d, time_s[i]!) * 1e3)).toBeLessThan(0.2);
    },
  );
});

describe('a saturated bed holds what its pores take (geometry; reference/bed-retention)', () => {
  it('holds 1.92 g per g after draining when no gap empties', () => {
    const c = saturatedBed(retention.grain_porosity, retention.bed_porosity);
    const run = runCase(c);
    expect(run.headGone).not.toBeNull();
    expect(Math.abs(heldByBed(c, run) / retention.held_g_g - 1)).toBeLessThan(retention.tolerance);
  });
});

describe('mode 4: hot water on cool grounds, nothing lost (energy balance; reference/brew-balance)', () => {
  const { coffee, tolerance, rows } = balance.mixing;
  it.each(rows)('$coffee_g g with $water_g g at $water_C °C come to $mixed_C °C', (row) => {
    const run = runCase(
      mixingVessel({
        grounds: row.coffee_g * 1e-3,
        groundsTemperature: coffee.t + 273.15,
        heatCapacity: coffee.heatCapacity,
        water: row.water_g * 1e-3,
        waterTemperature: row.water_C + 273.15,
      }),
    );
    const { low, high } = temperatureSpan(run);
    expect(low).toBeGreaterThanOrEqual(row.mixed_C - tolerance);
    expect(high).toBeLessThanOrEqual(row.mixed_C + tolerance);
  });
});

describe('mode 4: a vessel that warms its wall and the air (two bodies in series, exact)', () => {
  it('cools along the two exponentials within 0.02 K', () => {
    const vessel = coolingVessel();
    const { time_s, bed_middle_C } = runCase(vessel.case).recorder.finish();
    expect(bed_middle_C.at(-1)!).toBeLessThan(70);
    for (let i = 0; i < time_s.length; i++)
      expect(Math.abs(bed_middle_C[i]! - coolingCurve(vessel, time_s[i]!))).toBeLessThan(0.02);
  });
});
