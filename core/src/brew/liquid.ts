import { GRAVITY, liquidDensity, liquidViscosity, ZERO_CELSIUS } from '../units/index.ts';

/**
 * Density that turns water masses into volumes in the bed [kg/m³]: water at 90 °C (IAPWS SR6-08). One figure for a
 * run keeps volumes proportional to conserved masses; the Darcy drive uses the density at the local temperature.
 */
export const LIQUID_DENSITY = 965.31;

/**
 * Heat capacity of liquid [J/kg/K]: water at 80 °C (IAPWS SR6-08; it varies by 0.7 % between 20 and 100 °C). One
 * figure makes enthalpy proportional to temperature, so the balance closes to rounding.
 */
export const LIQUID_HEAT_CAPACITY = 4196.86;

/** Steps per kelvin and end of the table [°C]. */
const FINE = 2;
const HOTTEST = 110;

/** ρ₀ ρ g / μ by temperature [kg/(m³ s)]: mass flow per area of a unit permeability under a unit slope of head. */
const MOBILITY = Float64Array.from({ length: HOTTEST * FINE + 2 }, (_, k) => {
  const T = k / FINE + ZERO_CELSIUS;
  return (LIQUID_DENSITY * liquidDensity(T) * GRAVITY) / liquidViscosity(T);
});

/**
 * Mass flow per area that a unit permeability [m²] lets pass under a unit slope of head [kg/(m⁴ s)], at a temperature in
 * °C. Read from a table of the published formulations with steps of half a kelvin, straight in between (relative error
 * below 2·10⁻⁵); beyond 0–110 °C the ends stand.
 */
export function mobility(celsius: number): number {
  const x = Math.min(HOTTEST, Math.max(0, celsius)) * FINE;
  const k = Math.floor(x);
  const low = MOBILITY[k]!;
  return low + (x - k) * (MOBILITY[k + 1]! - low);
}
