import {
  AIR_HEAT_CAPACITY,
  airConductivity,
  airViscosity,
  GRAVITY,
  moistAirDensity,
  STEFAN_BOLTZMANN,
  saturationPressure,
  VAPOUR_GAS_CONSTANT,
  vapourDiffusivity,
} from '../units/index.ts';
import { power } from '../units/power.ts';

/** Emissivity of water (from memory). */
const EMISSIVITY = 0.95;

/**
 * Loss of an open hot surface to still air, by free convection of moist air, its analogue for vapour, and radiation.
 *
 * Nu = 0.54 Ra^¼ (Ra < 10⁷) or 0.15 Ra^⅓ on the length D/4, Ra from the difference of moist-air densities; mass
 * transfer by the Lewis relation with exponent −⅔ (horizontal plate facing up; textbook correlations, from memory). No
 * correction for the outward vapour flow: the caller's surface factor covers it.
 *
 * @param surface of the liquid [K]
 * @param air [K]
 * @param pressure of the air [Pa]
 * @param vapour pressure of water in the air [Pa]
 * @param diameter of the surface [m]
 * @param out `[0]` evaporation [kg/m²/s], never negative; `[1]` convection and radiation [W/m²/K]
 */
export function surfaceLoss(
  surface: number,
  air: number,
  pressure: number,
  vapour: number,
  diameter: number,
  out: Float64Array,
): void {
  const film = (surface + air) / 2;
  const vapourAtSurface = Math.min(saturationPressure(surface), 0.99 * pressure);
  const density = moistAirDensity(film, pressure, (vapourAtSurface + vapour) / 2);
  const conductivity = airConductivity(film);
  const diffusivity = vapourDiffusivity(film, pressure);
  const thermal = conductivity / (density * AIR_HEAT_CAPACITY);
  const step = moistAirDensity(air, pressure, vapour) - moistAirDensity(surface, pressure, vapourAtSurface);
  const length = diameter / 4;
  const rayleigh = Math.max(1, (GRAVITY * step * length * length * length) / (airViscosity(film) * thermal));
  const nusselt = rayleigh < 1e7 ? 0.54 * power(rayleigh, 0.25) : 0.15 * Math.cbrt(rayleigh);
  const convection = (nusselt * conductivity) / length;
  const transfer = (convection / (density * AIR_HEAT_CAPACITY)) * power(thermal / diffusivity, -2 / 3);
  const evaporation = (transfer / VAPOUR_GAS_CONSTANT) * (vapourAtSurface / surface - vapour / air);
  const radiation = EMISSIVITY * STEFAN_BOLTZMANN * (surface * surface + air * air) * (surface + air);
  out[0] = Math.max(0, evaporation);
  out[1] = convection + radiation;
}
