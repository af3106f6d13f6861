import { dielectricConstant, GAS_CONSTANT, liquidDensity, liquidViscosity } from '../units/index.ts';

/** A thermochemical calorie [J], by definition. */
const CALORIE = 4.184;
/** Natural logarithm of 10. */
export const LN10 = Math.LN10;

/** Everything about water and its reactions that depends on temperature alone. Equilibrium constants as natural logarithms. */
export interface Medium {
  /** Temperature [K]. */
  readonly T: number;
  /** Density of water [kg/m³], IAPWS SR6-08. */
  readonly density: number;
  /** What a diffusion coefficient at 25 °C is multiplied by: (T/η) over its value at 25 °C (Stokes and Einstein). */
  readonly mobility: number;
  /** Debye–Hückel A [(kg/mol)^½] for log10 γ, and B [(kg/mol)^½/Å]. */
  readonly A: number;
  readonly B: number;
  /** Solubility of CO2 gas [mol/kg/atm]. */
  readonly lnHenry: number;
  readonly lnK1: number;
  readonly lnK2: number;
  readonly lnWater: number;
  readonly lnHSO4: number;
  /** Ion + HCO3⁻ for Ca, Mg and Na; ion + CO3²⁻; ion + SO4²⁻; and the hydrolysis ion + H2O = pair + H⁺. */
  readonly lnCaHCO3: number;
  readonly lnCaCO3: number;
  readonly lnCaSO4: number;
  readonly lnCaOH: number;
  readonly lnMgHCO3: number;
  readonly lnMgCO3: number;
  readonly lnMgSO4: number;
  readonly lnMgOH: number;
  readonly lnNaHCO3: number;
  readonly lnNaCO3: number;
  readonly lnNaSO4: number;
  readonly lnKSO4: number;
}

/** log10 K by five coefficients: a + bT + c/T + d log10 T + e/T². */
const analytic =
  (a: number, b: number, c: number, d: number, e = 0) =>
  (T: number): number =>
    a + b * T + c / T + d * Math.log10(T) + e / (T * T);

/** log10 K from its value at 25 °C and an enthalpy [kcal/mol], by van 't Hoff. */
const vantHoff = (at25: number, enthalpy: number) => (T: number) =>
  at25 - ((1000 * CALORIE * enthalpy) / (LN10 * GAS_CONSTANT)) * (1 / T - 1 / 298.15);

/**
 * log10 of equilibrium constants as functions of T [K], 0–100 °C. Plummer & Busenberg 1982 (Geochim. Cosmochim. Acta 46,
 * 1011) for CO2, its acids, calcite, aragonite and the calcium carbonate pairs; all others as phreeqc.dat of PHREEQC 3.7.3
 * has them. `calciteOther` is the calcite of that database: equal at 25 °C, 0.30 higher at 93 °C, and the honest measure
 * of how well scale in hot water is known. Gypsum and nesquehonite are from memory (WATEQ4F, Ball & Nordstrom 1991).
 */
export const LOG_K = {
  henry: analytic(108.3865, 0.01985076, -6919.53, -40.45154, 669365),
  K1: analytic(-356.3094, -0.06091964, 21834.37, 126.8339, -1684915),
  K2: analytic(-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9),
  calcite: analytic(-171.9065, -0.077993, 2839.319, 71.595),
  aragonite: analytic(-171.9773, -0.077993, 2903.293, 71.595),
  calciteOther: analytic(17.118, -0.046528, -3496, 0),
  CaHCO3: analytic(1209.12, 0.31294, -34765.05, -478.782),
  CaCO3: analytic(-1228.732, -0.299444, 35512.75, 485.818),
  water: (T: number): number =>
    293.29227 + 0.1360833 * T - 10576.913 / T - 123.73158 * Math.log10(T) - 6.996455e-5 * T * T,
  /** Mg²⁺ + H⁺ + CO3²⁻ = MgHCO3⁺. */
  MgHCO3fromCO3: analytic(48.6721, 0.03252849, -2614.335, -18.00263, 563713.9),
  MgCO3: analytic(0.991, 0.00667, 0, 0),
  MgSO4: vantHoff(2.37, 4.55),
  CaSO4: vantHoff(2.25, 1.325),
  NaHCO3: vantHoff(-0.25, -1),
  NaCO3: vantHoff(1.27, 8.91),
  NaSO4: vantHoff(0.7, 1.12),
  KSO4: analytic(3.106, 0, -673.6, 0),
  HSO4: analytic(-56.889, 0.006473, 2307.9, 19.8858),
  CaOH: (): number => -12.78,
  MgOH: vantHoff(-11.44, 15.952),
  gypsum: analytic(68.2401, 0, -3221.51, -25.0627),
  nesquehonite: vantHoff(-5.621, -5.789),
} as const;

/** T/η of water at 25 °C [K/(Pa s)]. */
const STOKES_25 = 298.15 / liquidViscosity(298.15);

/**
 * The medium at T [K]. A = 1.824829e6 √ρ (εT)^−3/2 and B = 50.2916 √ρ (εT)^−1/2 with ρ in g/cm³ (textbook prefactors, from
 * memory; they give the A and B that PHREEQC prints to 0.001), ε of IAPWS SR6-08.
 */
export function makeMedium(T: number): Medium {
  const density = liquidDensity(T);
  const root = Math.sqrt(density / 1000);
  const eT = dielectricConstant(T) * T;
  const ln = (of: (T: number) => number): number => LN10 * of(T);
  return {
    T,
    density,
    mobility: T / liquidViscosity(T) / STOKES_25,
    A: (1.824829e6 * root) / (eT * Math.sqrt(eT)),
    B: (50.2916 * root) / Math.sqrt(eT),
    lnHenry: ln(LOG_K.henry),
    lnK1: ln(LOG_K.K1),
    lnK2: ln(LOG_K.K2),
    lnWater: ln(LOG_K.water),
    lnHSO4: ln(LOG_K.HSO4),
    lnCaHCO3: ln(LOG_K.CaHCO3),
    lnCaCO3: ln(LOG_K.CaCO3),
    lnCaSO4: ln(LOG_K.CaSO4),
    lnCaOH: ln(LOG_K.CaOH),
    lnMgHCO3: ln(LOG_K.MgHCO3fromCO3) + ln(LOG_K.K2),
    lnMgCO3: ln(LOG_K.MgCO3),
    lnMgSO4: ln(LOG_K.MgSO4),
    lnMgOH: ln(LOG_K.MgOH),
    lnNaHCO3: ln(LOG_K.NaHCO3),
    lnNaCO3: ln(LOG_K.NaCO3),
    lnNaSO4: ln(LOG_K.NaSO4),
    lnKSO4: ln(LOG_K.KSO4),
  };
}

let last: Medium | null = null;

/** {@link makeMedium}, remembering the last temperature: many waters are computed at one. */
export function mediumAt(T: number): Medium {
  if (last?.T !== T) last = makeMedium(T);
  return last;
}
