/** The air around the brew: its pressure by altitude, its moisture, and what carries heat and vapour away. */

import { GRAVITY } from './convert.ts';
import { power } from './power.ts';
import { saturationPressure, saturationTemperature } from './saturation.ts';

/** Sea-level pressure [Pa], temperature [K] and lapse rate [K/m] of the ICAO standard atmosphere. */
const P_0 = 101_325;
const T_0 = 288.15;
const LAPSE = 0.0065;

/** Specific gas constant of dry air [J/kg/K]: 8314.32 J/kmol/K over 28.9644 kg/kmol, as the ICAO atmosphere has it. */
export const DRY_AIR_GAS_CONSTANT = 8314.32 / 28.9644; // 287.053

/** Specific gas constant of water vapour [J/kg/K], IAPWS SR6-08. */
export const VAPOUR_GAS_CONSTANT = 461.51805;

/** Specific heat capacity of dry air [J/kg/K], 7/2 of its gas constant as the ICAO atmosphere has it. */
export const AIR_HEAT_CAPACITY = 3.5 * DRY_AIR_GAS_CONSTANT; // 1004.69

/**
 * Pressure of the ICAO standard atmosphere [Pa] at the geopotential altitude [m]: p = p0 (1 − L h/T0)^(g/(R L)).
 * ISO 2533 / ICAO Doc 7488, valid −5000–11 000 m. Geometric altitude may be used in its place: the error is 0.12 hPa at
 * 3000 m. Weather moves the true pressure by ±20 hPa; a measured value is better.
 */
export const standardPressure = (altitude: number): number =>
  P_0 * power(1 - (LAPSE * altitude) / T_0, GRAVITY / (DRY_AIR_GAS_CONSTANT * LAPSE));

/**
 * Temperature at which water boils [K] under the pressure p [Pa]: IAPWS R7-97(2012), see {@link saturationTemperature}.
 * The ions of a brewing water raise it by less than 0.003 K, which is neglected.
 */
export const boilingPoint = (p: number): number => saturationTemperature(p);

/**
 * Partial pressure of water vapour [Pa] in air of T [K] and relative humidity 0–1 over liquid water. The enhancement by
 * the presence of air (0.4 %) is neglected.
 */
export const vapourPressure = (T: number, relativeHumidity: number): number =>
  relativeHumidity * saturationPressure(T);

/** Density of moist air [kg/m³] at T [K], pressure p [Pa] and vapour pressure e [Pa], as a mixture of ideal gases. */
export const moistAirDensity = (T: number, p: number, e: number): number =>
  ((p - e) / DRY_AIR_GAS_CONSTANT + e / VAPOUR_GAS_CONSTANT) / T;

/**
 * Dynamic viscosity of dry air [Pa s] at T [K]: µ = 1.458e-6 T^1.5/(T + 110.4). Sutherland's equation with the
 * constants of the ICAO and U.S. 1976 standard atmospheres; good to about 1 % in 200–500 K.
 */
export const airViscosity = (T: number): number => (1.458e-6 * T * Math.sqrt(T)) / (T + 110.4);

/**
 * Thermal conductivity of dry air [W/m/K] at T [K]: λ = 2.64638e-3 T^1.5/(T + 245.4 · 10^(−12/T)), the equation of the
 * U.S. 1976 standard atmosphere; good to about 2 % in 200–500 K.
 */
export const airConductivity = (T: number): number =>
  (2.64638e-3 * T * Math.sqrt(T)) / (T + 245.4 * power(10, -12 / T));

/**
 * Diffusivity of water vapour in air [m²/s] at T [K] and pressure p [Pa]: D = 2.178e-5 (T/273.15)^1.81 (p0/p). Massman
 * 1998 (Atmospheric Environment 32, 1111; coefficient from memory); good to about 5 % in 270–375 K.
 */
export const vapourDiffusivity = (T: number, p: number): number =>
  2.178e-5 * power(T / 273.15, 1.81) * (P_0 / p);
