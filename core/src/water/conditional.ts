import { LN10, type Medium } from './medium.ts';
import { SPECIES } from './species.ts';

/**
 * Places of the conditional constants: equilibrium constants with the activity coefficients taken in, so that they hold for
 * molalities. The first sixteen are four for each of Ca, Mg, Na, K: with HCO3 (as H⁺ + CO3²⁻), CO3, SO4, and OH (times H⁺).
 */
export const K = {
  /** CO2 = q0 h² c, HCO3⁻ = q1 h c, by h = H⁺ and c = CO3²⁻. */
  q0: 16,
  q1: 17,
  lnQ0: 18,
  /** OH⁻ = water / h. */
  water: 19,
  /** HSO4⁻ = hso4 h s. */
  hso4: 20,
  /** ln γ of H⁺ and of every uncharged species. */
  lnH: 21,
  lnNeutral: 22,
} as const;
export const K_COUNT = 23;

/**
 * All conditional constants at an ionic strength [mol/kg], into `k`. Written out species by species because it is the
 * innermost work of the solver; a test holds it to activity.ts.
 */
export function conditionalConstants(medium: Medium, ionicStrength: number, k: Float64Array): void {
  const root = Math.sqrt(ionicStrength);
  const rootB = medium.B * root;
  const a = -LN10 * medium.A * root;
  const i = LN10 * ionicStrength;
  const H = a / (1 + rootB * SPECIES.H.size);
  const OH = a / (1 + rootB * SPECIES.OH.size);
  const B = a / (1 + rootB * SPECIES.HCO3.size);
  const C = 4 * B; // CO3 has the size of HCO3
  const S = (4 * a) / (1 + rootB * SPECIES.SO4.size) + SPECIES.SO4.slope * i;
  const Ca = (4 * a) / (1 + rootB * SPECIES.Ca.size) + SPECIES.Ca.slope * i;
  const Mg = (4 * a) / (1 + rootB * SPECIES.Mg.size) + SPECIES.Mg.slope * i;
  const Na = a / (1 + rootB * SPECIES.Na.size) + SPECIES.Na.slope * i;
  const Ka = a / (1 + rootB * SPECIES.K.size) + SPECIES.K.slope * i;
  const CaB = a / (1 + rootB * SPECIES.CaHCO3.size);
  const MgB = a / (1 + rootB * SPECIES.MgHCO3.size);
  const MgOH = a / (1 + rootB * SPECIES.MgOH.size);
  const davies = a / (1 + root) + 0.3 * LN10 * medium.A * ionicStrength;
  const N = 0.1 * i;
  const b = H + C - medium.lnK2; // H⁺ + CO3²⁻ → the activity of HCO3⁻
  const lnQ0 = b + H - medium.lnK1 - N;
  k[0] = Math.exp(medium.lnCaHCO3 + b + Ca - CaB);
  k[1] = Math.exp(medium.lnCaCO3 + Ca + C - N);
  k[2] = Math.exp(medium.lnCaSO4 + Ca + S - N);
  k[3] = Math.exp(medium.lnCaOH + Ca - H - davies);
  k[4] = Math.exp(medium.lnMgHCO3 + b + Mg - MgB);
  k[5] = Math.exp(medium.lnMgCO3 + Mg + C - N);
  k[6] = Math.exp(medium.lnMgSO4 + Mg + S - N);
  k[7] = Math.exp(medium.lnMgOH + Mg - H - MgOH);
  k[8] = Math.exp(medium.lnNaHCO3 + b + Na - N);
  k[9] = Math.exp(medium.lnNaCO3 + Na + C - davies);
  k[10] = Math.exp(medium.lnNaSO4 + Na + S - B);
  k[14] = Math.exp(medium.lnKSO4 + Ka + S - B);
  k[K.q0] = Math.exp(lnQ0);
  k[K.q1] = Math.exp(b - B);
  k[K.lnQ0] = lnQ0;
  k[K.water] = Math.exp(medium.lnWater - H - OH);
  k[K.hso4] = Math.exp(medium.lnHSO4 + H + S - davies);
  k[K.lnH] = H;
  k[K.lnNeutral] = N;
}
