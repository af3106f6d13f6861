import { LOG_K } from './medium.ts';
import { logActivity, type Speciation } from './speciate.ts';

/** A solid that water can be saturated with. */
export type Mineral = 'calcite' | 'aragonite' | 'gypsum' | 'nesquehonite';

/**
 * Saturation index of a solid: log10 of the ion activity product over the solubility product. Below 0 it dissolves, at 0 it
 * is in balance, above 0 it can form; calcite practically needs +0.3 or more (common practice). −Infinity where an ion of it
 * is absent. The activity of water is taken as one.
 */
export function saturationIndex(of: Speciation, mineral: Mineral = 'calcite'): number {
  const { T } = of.medium;
  switch (mineral) {
    case 'gypsum':
      return logActivity(of, 'Ca') + logActivity(of, 'SO4') - LOG_K.gypsum(T);
    case 'nesquehonite':
      return logActivity(of, 'Mg') + logActivity(of, 'CO3') - LOG_K.nesquehonite(T);
    default:
      return logActivity(of, 'Ca') + logActivity(of, 'CO3') - LOG_K[mineral](T);
  }
}

/**
 * How far the calcite index itself may be wrong at T [K], as ± : the larger of 0.02 (the uncertainty that Plummer & Busenberg
 * give) and the distance to the other published equation, which grows to 0.3 at 93 °C.
 */
export const saturationDoubt = (T: number): number =>
  Math.max(0.02, Math.abs(LOG_K.calcite(T) - LOG_K.calciteOther(T)));

/**
 * Langelier's index: pH − pHs with pHs = pK2 − pKc + p[Ca] + p[alkalinity] + 5 pf, pf by Davies (form of Standard Methods 2330,
 * from memory). Takes totals, not free ions, so it comes out a little above {@link saturationIndex}: within 0.05 for
 * alkalinity up to 5 meq and pH below 8.5. NaN without calcium or alkalinity.
 */
export function langelierIndex(of: Speciation): number {
  const { T, A } = of.medium;
  const root = Math.sqrt(of.ionicStrength);
  const pf = A * (root / (1 + root) - 0.3 * of.ionicStrength);
  const { calcium, alkalinity } = of.composition;
  if (!(calcium > 0 && alkalinity > 0)) return Number.NaN;
  const pHs = -LOG_K.K2(T) + LOG_K.calcite(T) - Math.log10(calcium) - Math.log10(alkalinity) + 5 * pf;
  return of.pH - pHs;
}
