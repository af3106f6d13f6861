import { power } from './power.ts';

/**
 * The line between liquid water and its vapour. Pressure and temperature after IAPWS R7-97(2012) ("IF97") region 4; latent
 * heat after the IAPWS supplementary release SR1-86(1992). Check values: reference/iapws-if97, reference/iapws-sr1-86.
 */

const N1 = 0.11670521452767e4;
const N2 = -0.72421316703206e6;
const N3 = -0.17073846940092e2;
const N4 = 0.1202082470247e5;
const N5 = -0.32325550322333e7;
const N6 = 0.1491510861353e2;
const N7 = -0.48232657361591e4;
const N8 = 0.40511340542057e6;
const N9 = -0.23855557567849;
const N10 = 0.65017534844798e3;

/**
 * Pressure of saturated water vapour [Pa] over liquid water at T [K]. IAPWS R7-97(2012) eq. 30, valid 273.15–647.096 K;
 * below 0 °C it goes on smoothly over supercooled water, without a promise.
 */
export function saturationPressure(T: number): number {
  const theta = T + N9 / (T - N10);
  const A = (theta + N1) * theta + N2;
  const B = (N3 * theta + N4) * theta + N5;
  const C = (N6 * theta + N7) * theta + N8;
  const root = (2 * C) / (-B + Math.sqrt(B * B - 4 * A * C));
  const squared = root * root;
  return 1e6 * squared * squared;
}

/**
 * Temperature [K] at which water boils under the pressure p [Pa]. IAPWS R7-97(2012) eq. 31, the exact inverse of
 * {@link saturationPressure}; valid 611.213 Pa–22.064 MPa.
 */
export function saturationTemperature(p: number): number {
  const beta = power(p * 1e-6, 0.25);
  const E = (beta + N3) * beta + N6;
  const F = (N1 * beta + N4) * beta + N7;
  const G = (N2 * beta + N5) * beta + N8;
  const D = (2 * G) / (-F - Math.sqrt(F * F - 4 * E * G));
  return (N10 + D - Math.sqrt((N10 + D) ** 2 - 4 * (N9 + N10 * D))) / 2;
}

/** Critical temperature [K], pressure [Pa] and density [kg/m³] of SR1-86. */
const T_C = 647.096;
const P_C = 22.064e6;
const RHO_C = 322;

/**
 * Slope of the saturation line dp/dT [Pa/K] at T [K], from the vapour-pressure equation of IAPWS SR1-86(1992),
 * ln(p/pc) = (Tc/T) Σ aᵢ τ^xᵢ, τ = 1 − T/Tc. Valid 273.16–647.096 K.
 */
export function saturationSlope(T: number): number {
  const t = 1 - T / T_C;
  const root = Math.sqrt(t);
  const t3 = t * t * t;
  const t7h = t3 * t3 * t * root;
  const sum =
    -7.85951783 * t +
    1.84408259 * t * root -
    11.7866497 * t3 +
    22.6807411 * t3 * root -
    15.9618719 * t3 * t +
    1.80122502 * t7h;
  const p = P_C * Math.exp((T_C / T) * sum);
  const slope =
    -7.85951783 +
    1.5 * 1.84408259 * root -
    3 * 11.7866497 * t * t +
    3.5 * 22.6807411 * t * t * root -
    4 * 15.9618719 * t3 +
    7.5 * 1.80122502 * t3 * t3 * root;
  return -(p / T) * ((T_C / T) * sum + slope);
}

/** Density of the saturated liquid [kg/m³] at T [K]. IAPWS SR1-86(1992), 273.16–647.096 K. */
export function saturatedLiquidDensity(T: number): number {
  const third = Math.cbrt(1 - T / T_C);
  return (
    RHO_C *
    (1 +
      1.99274064 * third +
      1.09965342 * third ** 2 -
      0.510839303 * power(third, 5) -
      1.75493479 * power(third, 16) -
      45.5170352 * power(third, 43) -
      6.7469445e5 * power(third, 110))
  );
}

/** Density of the saturated vapour [kg/m³] at T [K]. IAPWS SR1-86(1992), 273.16–647.096 K. */
export function saturatedVapourDensity(T: number): number {
  const sixth = power(1 - T / T_C, 1 / 6);
  return (
    RHO_C *
    Math.exp(
      -2.0315024 * sixth ** 2 -
        2.6830294 * power(sixth, 4) -
        5.38626492 * power(sixth, 8) -
        17.2991605 * power(sixth, 18) -
        44.7586581 * power(sixth, 37) -
        63.9201063 * power(sixth, 71),
    )
  );
}

/**
 * Heat of vaporisation of water [J/kg] at T [K], by the equation of Clausius and Clapeyron: r = T dp/dT (1/ρ″ − 1/ρ′)
 * with the three equations of IAPWS SR1-86(1992) above. Valid 273.16–647.096 K; below, evaluated as it stands.
 */
export const latentHeat = (T: number): number =>
  T * saturationSlope(T) * (1 / saturatedVapourDensity(T) - 1 / saturatedLiquidDensity(T));
