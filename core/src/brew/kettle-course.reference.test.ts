import { describe, expect, it } from 'vitest';
import data from '../../../reference/kettle-heat/check-values.json' with { type: 'json' };
import { kelvin } from '../units/index.ts';
import { cooled, heatingTime, type KettleBody } from './kettle-course.ts';

describe('kettles, against figures of common practice (reference/kettle-heat)', () => {
  const { off_base, heating } = data;
  const air = kelvin(off_base.air_C);
  it.each(off_base.rows)('$water_kg kg off its base falls by $falls_K_min K a minute at first', (row) => {
    const kettle: KettleBody = {
      body: off_base.body_kg,
      loss: off_base.loss_W_K,
      power: 0,
      air,
      boils: 373.12,
    };
    const T = kelvin(off_base.water_C);
    const falls = 60 * (T - cooled(kettle, T, row.water_kg, 1));
    expect(Math.abs(falls - row.falls_K_min)).toBeLessThan(row.last_digit / 2);
  });
  it('a litre from 20 to 94 °C takes 4:53', () => {
    const kettle: KettleBody = { body: 0, loss: 1e-9, power: heating.power_W, air, boils: 373.12 };
    const t = heatingTime(kettle, kelvin(heating.from_C), heating.water_kg, kelvin(heating.to_C));
    expect(Math.abs(t - heating.takes_s)).toBeLessThan(heating.tolerance_s);
  });
});
