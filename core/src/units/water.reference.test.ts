import { describe, expect, it } from 'vitest';
import tensionData from '../../../reference/iapws-r1-76/check-values.json' with { type: 'json' };
import liquidData from '../../../reference/iapws-sr6-08/check-values.json' with { type: 'json' };
import kellData from '../../../reference/kell-1975/check-values.json' with { type: 'json' };
import tableData from '../../../reference/water-table/table.json' with { type: 'json' };
import { kelvin } from './convert.ts';
import { latentHeat, saturationPressure } from './saturation.ts';
import {
  dielectricConstant,
  kellDensity,
  liquidConductivity,
  liquidDensity,
  liquidEnthalpy,
  liquidHeatCapacity,
  liquidViscosity,
  surfaceTension,
} from './water.ts';

/** Within half a unit of the last printed digit, given by its place value. */
const near = (actual: number, expected: number, lastDigit: number): void =>
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(0.5001 * lastDigit);

describe('liquid water, against the check values of IAPWS SR6-08(2011) table 8', () => {
  it.each(liquidData.rows)('at $T K', (row) => {
    near(liquidDensity(row.T), row.rho, 1e-6);
    near(liquidHeatCapacity(row.T), row.cp, 1e-5);
    near(liquidViscosity(row.T) * 1e6, row.eta, row.eta > 1000 ? 1e-5 : 1e-6);
    near(liquidConductivity(row.T), row.lambda, 1e-9);
    near(dielectricConstant(row.T), row.epsilon, 1e-6);
    // h = g + T s; each printed to 1e-4 J/kg and 1e-5 J/kg/K.
    near(liquidEnthalpy(row.T), row.g + row.T * row.s, 1e-4 + row.T * 1e-5);
  });
});

describe('liquid enthalpy', () => {
  it('has the heat capacity as its derivative', () => {
    for (let T = 255; T <= 383; T += 4) {
      const slope = (liquidEnthalpy(T + 2e-3) - liquidEnthalpy(T - 2e-3)) / 4e-3;
      expect(slope / liquidHeatCapacity(T)).toBeCloseTo(1, 8);
    }
  });
});

describe('density after Kell 1975', () => {
  it.each(kellData.rows)('at $t °C', ({ t, rho, tolerance }) => {
    expect(Math.abs(kellDensity(kelvin(t)) - rho)).toBeLessThanOrEqual(tolerance);
  });
  it('agrees with IAPWS SR6-08 within 0.02 kg/m³ from 1 to 99 °C', () => {
    for (let t = 1; t <= 99; t++)
      expect(Math.abs(kellDensity(kelvin(t)) - liquidDensity(kelvin(t)))).toBeLessThan(0.02);
  });
});

describe('surface tension, against IAPWS R1-76(2014) table 1', () => {
  it.each(tensionData.rows)('at $T K', ({ T, sigma }) => near(surfaceTension(T) * 1e3, sigma, 0.01));
});

describe('liquid water, against the same equations in another program', () => {
  it.each(tableData.iapws_package)('at $t °C', (row) => {
    const T = kelvin(row.t);
    near(liquidDensity(T), row.rho, 1e-4);
    near(liquidHeatCapacity(T) * 1e-3, row.cp, 1e-5);
    near(liquidViscosity(T) * 1e3, row.eta, 1e-5);
    near(liquidConductivity(T), row.lambda, 1e-5);
    near(surfaceTension(T) * 1e3, row.sigma, 1e-3);
    near(saturationPressure(T) * 1e-3, row.psat, row.psat > 100 ? 1e-3 : row.psat > 10 ? 1e-4 : 1e-5);
  });
});

describe('liquid water, against IAPWS-95 in another program', () => {
  it.each(tableData.iapws95_program)('at $t °C', (row) => {
    const T = kelvin(row.t);
    const within = (actual: number, expected: number, allowed: number) =>
      expect(Math.abs(actual - expected)).toBeLessThanOrEqual(allowed);
    within(liquidDensity(T), row.rho, 0.01);
    within(liquidHeatCapacity(T) * 1e-3, row.cp, 1e-3);
    within(liquidViscosity(T) * 1e3, row.eta, 1e-4);
    within(liquidConductivity(T), row.lambda, 1e-4);
    within(saturationPressure(T) * 1e-3, row.psat, 0.01);
    within(latentHeat(T) * 1e-3, row.latent, 0.05 + 1e-4 * row.latent);
    within(surfaceTension(T) * 1e3, row.sigma, 0.12);
    within((liquidHeatCapacity(T) * liquidViscosity(T)) / liquidConductivity(T), row.prandtl, 0.01);
  });
});
