import { describe, expect, it } from 'vitest';
import viscosityData from '../../../reference/iapws-r12-08/check-values.json' with { type: 'json' };
import conductivityData from '../../../reference/iapws-r15-11/check-values.json' with { type: 'json' };
import { conductivity, viscosity } from './transport.ts';
import { liquidConductivity, liquidDensity, liquidViscosity } from './water.ts';

describe('viscosity, against IAPWS R12-08 table 4', () => {
  it.each(viscosityData.rows)('at $T K, $rho kg/m³', ({ T, rho, eta }) => {
    expect(Number((viscosity(T, rho) * 1e6).toFixed(6))).toBe(eta);
  });
});

describe('thermal conductivity, against IAPWS R15-11 table 4', () => {
  it.each(conductivityData.rows)('at $T K, $rho kg/m³', ({ T, rho, lambda, decimals }) => {
    expect(Number((conductivity(T, rho) * 1e3).toFixed(decimals))).toBe(lambda);
  });
});

describe('the short equations for the liquid', () => {
  it('agree with the general ones within 0.2 % from 5 to 100 °C', () => {
    for (let T = 278.15; T <= 373.15; T += 5) {
      const rho = liquidDensity(T);
      expect(Math.abs(liquidViscosity(T) / viscosity(T, rho) - 1)).toBeLessThan(2e-3);
      expect(Math.abs(liquidConductivity(T) / conductivity(T, rho) - 1)).toBeLessThan(2e-3);
    }
  });
});
