import { describe, expect, it } from 'vitest';
import data from '../../../reference/standard-atmosphere/check-values.json' with { type: 'json' };
import {
  airConductivity,
  airViscosity,
  boilingPoint,
  moistAirDensity,
  standardPressure,
  vapourDiffusivity,
  vapourPressure,
} from './air.ts';
import { celsius, HECTOPASCAL, kelvin } from './convert.ts';

describe('standard atmosphere', () => {
  it.each(data.rows)('pressure and boiling point at $h m', ({ h, p, boils }) => {
    const pressure = standardPressure(h);
    expect(Math.abs(pressure / HECTOPASCAL - p)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(celsius(boilingPoint(pressure)) - boils)).toBeLessThanOrEqual(0.0006);
  });
  it.each(data.published)('$p hPa lies at $h m (published to a metre)', ({ p, h }) => {
    expect(standardPressure(h - 0.6) / HECTOPASCAL).toBeGreaterThan(p);
    expect(standardPressure(h + 0.6) / HECTOPASCAL).toBeLessThan(p);
  });
  it('does not let a 94 °C pour be held at 2240 m', () => {
    const { h, boils, pour } = data.impossible_pour;
    const limit = celsius(boilingPoint(standardPressure(h)));
    expect(limit).toBeCloseTo(boils, 2);
    expect(limit).toBeLessThan(pour);
  });
});

describe('moist air', () => {
  it('has the standard density of 1.2250 kg/m³ when dry, at 15 °C and sea level (ICAO)', () => {
    expect(moistAirDensity(288.15, 101_325, 0)).toBeCloseTo(1.225, 4);
  });
  it('grows lighter as it grows moister', () => {
    const T = kelvin(40);
    const dry = moistAirDensity(T, 101_325, vapourPressure(T, 0));
    const wet = moistAirDensity(T, 101_325, vapourPressure(T, 1));
    // 1 − (1 − 287.05/461.52) e/p with e = 7.384 kPa.
    expect(wet / dry).toBeCloseTo(1 - (1 - 287.053 / 461.518) * (7384.4 / 101_325), 4);
  });
  it('has the sea-level viscosity 1.7894e-5 Pa s and conductivity 2.5326e-2 W/m/K of U.S. 1976 (from memory)', () => {
    expect(airViscosity(288.15) * 1e5).toBeCloseTo(1.7894, 4);
    expect(airConductivity(288.15) * 1e2).toBeCloseTo(2.5326, 3);
  });
  it('lets vapour through as 2.5e-5 (T/298 K)^1.81 m²/s within 3 % (common textbook value)', () => {
    for (const t of [20, 60, 90]) {
      const T = kelvin(t);
      expect(vapourDiffusivity(T, 101_325) / (2.5e-5 * (T / 298) ** 1.81)).toBeCloseTo(1, 1.3);
    }
    expect(vapourDiffusivity(300, 50_000) / vapourDiffusivity(300, 100_000)).toBeCloseTo(2, 12);
  });
});
