import { power } from './power.ts';

/**
 * Liquid water at atmospheric pressure, after IAPWS SR6-08(2011), "Revised Supplementary Release on Properties of Liquid
 * Water at 0.1 MPa". Coefficients and check values: reference/iapws-sr6-08.
 *
 * Valid 253.15–383.15 K at 0.1 MPa; between 70 and 105 kPa the pressure moves the density by less than 2e-5 relative.
 * Outside that range the equations are evaluated as they stand: smooth, without a promise. Nothing throws and nothing is
 * allocated, so that a solver may call these in its innermost loop. The density and heat capacity have poles at 232 K
 * and 593 K.
 */

/** Specific gas constant of water in SR6-08 [J/kg/K]. */
const R = 461.51805;
/** Reducing temperature [K]. */
const T_R = 10;
const P_0 = 1e5;

/**
 * Specific volume of liquid water [m³/kg] at T [K]: v = (R T_R/p0)(a5 + Σ aᵢ αⁿ + Σ bᵢ βᵐ), α = T_R/(593 K − T),
 * β = T_R/(T − 232 K). IAPWS SR6-08 eq. 2.
 */
export function liquidVolume(T: number): number {
  const a = T_R / (593 - T);
  const b = T_R / (T - 232);
  const a2 = a * a;
  const a4 = a2 * a2;
  const hot =
    a4 * (6.74458446e3 + a * (-2.22521604e5 + a2 * (1.00231247e8 + a * (-1.63552118e9 + a * 8.32299658e9))));
  const cold =
    b *
    (5.78545292e-3 +
      b *
        (-1.53195665e-2 +
          b * (3.11337859e-2 + b * (-4.23546241e-2 + b * (3.38713507e-2 + b * -1.19946761e-2)))));
  return ((R * T_R) / P_0) * (1.93763157e-2 + hot + cold);
}

/** Density of liquid water [kg/m³] at T [K], the inverse of {@link liquidVolume}. IAPWS SR6-08. */
export const liquidDensity = (T: number): number => 1 / liquidVolume(T);

/**
 * Specific heat capacity of liquid water at constant pressure [J/kg/K] at T [K]: cp = −T ∂²g/∂T² with the Gibbs energy
 * of IAPWS SR6-08 eq. 1.
 */
export function liquidHeatCapacity(T: number): number {
  const a = T_R / (593 - T);
  const b = T_R / (T - 232);
  const a2 = a * a;
  const b2 = b * b;
  const hot = a2 * a2 * a2 * (20 * -1.661470539e5 + a * (30 * 2.70878164e6 + a2 * 56 * -1.557191544e8));
  const cold =
    b2 *
    b2 *
    (6 * -8.237426256e-1 + b * (12 * 1.908956353 + b * (20 * -2.017597384 + b * 30 * 8.546361348e-1)));
  return -R * (-8.983025854 + (T / T_R) * (hot + cold));
}

/**
 * Specific enthalpy of liquid water [J/kg] at T [K]: h = g − T ∂g/∂T with the Gibbs energy of IAPWS SR6-08 eq. 1; its
 * derivative is {@link liquidHeatCapacity} exactly. Zero is that of IAPWS-95: saturated liquid at the triple point, to
 * within the pressure term of 0.1 kJ/kg.
 */
export function liquidEnthalpy(T: number): number {
  const t = T / T_R;
  const a = T_R / (593 - T);
  const b = T_R / (T - 232);
  const ta = t * a;
  const tb = t * b;
  const a2 = a * a;
  const hot =
    a2 *
    a2 *
    (-1.661470539e5 * (1 - 4 * ta) + a * (2.70878164e6 * (1 - 5 * ta) + a2 * -1.557191544e8 * (1 - 7 * ta)));
  const cold =
    b *
    b *
    (-8.237426256e-1 * (1 + 2 * tb) +
      b *
        (1.908956353 * (1 + 3 * tb) + b * (-2.017597384 * (1 + 4 * tb) + b * 8.546361348e-1 * (1 + 5 * tb))));
  return R * T_R * (-2.452093414e2 + 8.983025854 * t + hot + cold);
}

/**
 * Dynamic viscosity of liquid water [Pa s] at T [K]: µ = 1e-6 Σ aᵢ (T/300 K)^bᵢ. IAPWS SR6-08 eq. 7, uncertainty 1 %
 * over the range and far less near 20 °C.
 */
export function liquidViscosity(T: number): number {
  const lnT = Math.log(T / 300);
  return (
    1e-6 *
    (280.68 * Math.exp(-1.9 * lnT) +
      511.45 * Math.exp(-7.7 * lnT) +
      61.131 * Math.exp(-19.6 * lnT) +
      0.45903 * Math.exp(-40 * lnT))
  );
}

/** Thermal conductivity of liquid water [W/m/K] at T [K]: λ = Σ cᵢ (T/300 K)^dᵢ. IAPWS SR6-08 eq. 8. */
export function liquidConductivity(T: number): number {
  const lnT = Math.log(T / 300);
  return (
    1.663 * Math.exp(-1.15 * lnT) -
    1.7781 * Math.exp(-3.4 * lnT) +
    1.1567 * Math.exp(-6 * lnT) -
    0.432115 * Math.exp(-7.6 * lnT)
  );
}

/** Static dielectric constant of liquid water [-] at T [K]: ε = Σ eᵢ (T/300 K)^fᵢ. IAPWS SR6-08 eq. 9. */
export function dielectricConstant(T: number): number {
  const lnT = Math.log(T / 300);
  return (
    -43.7527 * Math.exp(-0.05 * lnT) +
    299.504 * Math.exp(-1.47 * lnT) -
    399.364 * Math.exp(-2.11 * lnT) +
    221.327 * Math.exp(-2.31 * lnT)
  );
}

/**
 * Density of air-free water at 101 325 Pa [kg/m³] at T [K] after Kell 1975 (J. Chem. Eng. Data 20, 97), 0–150 °C; a
 * second, independent source for {@link liquidDensity}. Kell's scale is IPTS-68; the difference to ITS-90, under 0.03 K
 * here, is neglected (under 0.02 kg/m³). Outside the range it is evaluated as it stands.
 */
export function kellDensity(T: number): number {
  const t = T - 273.15;
  const top =
    999.83952 +
    t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 + t * -280.54253e-12))));
  return top / (1 + 16.87985e-3 * t);
}

/**
 * Surface tension of water against its vapour [N/m] at T [K]: σ = 235.8e-3 τ^1.256 (1 − 0.625 τ), τ = 1 − T/Tc.
 * IAPWS R1-76(2014), 248.15–647.096 K; NaN above the critical point.
 */
export function surfaceTension(T: number): number {
  const t = 1 - T / 647.096;
  return 0.2358 * power(t, 1.256) * (1 - 0.625 * t);
}
