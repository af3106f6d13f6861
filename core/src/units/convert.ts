/**
 * Inside the core every number is in SI: kelvin, pascal, kilogram, metre, second. Documents carry the units that people
 * write, in their field names. These constants and functions stand at that border.
 */

/** 0 °C [K], by definition. */
export const ZERO_CELSIUS = 273.15;

/** Standard acceleration of free fall [m/s²], by definition (CGPM 1901). */
export const GRAVITY = 9.80665;

/** Molar gas constant [J/mol/K], exact since the SI of 2019. */
export const GAS_CONSTANT = 8.314462618;

/** Stefan–Boltzmann constant [W/m²/K⁴], CODATA 2018. */
export const STEFAN_BOLTZMANN = 5.670374419e-8;

/** One gram [kg]. Multiply to come in, divide to go out; so also for the constants below. */
export const GRAM = 1e-3;
/** One milligram [kg]. */
export const MILLIGRAM = 1e-6;
/** One centimetre [m]. */
export const CENTIMETRE = 1e-2;
/** One millimetre [m]. */
export const MILLIMETRE = 1e-3;
/** One micrometre [m]. */
export const MICROMETRE = 1e-6;
/** One millilitre [m³]. */
export const MILLILITRE = 1e-6;
/** One hectopascal [Pa]. */
export const HECTOPASCAL = 100;
/** One day [s]. */
export const DAY = 86_400;

/** Temperature [K] from degrees Celsius. */
export const kelvin = (celsius: number): number => celsius + ZERO_CELSIUS;

/** Temperature [°C] from kelvin. */
export const celsius = (kelvin: number): number => kelvin - ZERO_CELSIUS;
