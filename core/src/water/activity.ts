import { LN10, type Medium } from './medium.ts';
import { CHARGES, SIZES, SLOPES, SPECIES_INDEX, SPECIES_NAMES } from './species.ts';

const COUNT = SPECIES_NAMES.length;

/**
 * Activity coefficients of all species, as natural logarithms, written into `out` [species]. Ions: extended Debye–Hückel
 * log γ = −A z² √I/(1 + B å √I) + b I, or Davies log γ = −A z² (√I/(1 + √I) − 0.3 I); uncharged: log γ = 0.1 I. These are the
 * equations of PHREEQC (Parkhurst & Appelo 2013); meant for I up to 0.1 mol/kg, and no worse than its neighbours up to 0.5.
 */
export function lnActivities(medium: Medium, ionicStrength: number, out: Float64Array): void {
  const root = Math.sqrt(ionicStrength);
  const rootB = medium.B * root;
  const minusA = -LN10 * medium.A;
  const davies = minusA * (root / (1 + root) - 0.3 * ionicStrength);
  const slope = LN10 * ionicStrength;
  for (let i = 0; i < COUNT; i++) {
    const z = CHARGES[i]!;
    const size = SIZES[i]!;
    if (z === 0) out[i] = 0.1 * slope;
    else if (Number.isNaN(size)) out[i] = z * z * davies;
    else out[i] = (minusA * z * z * root) / (1 + rootB * size) + SLOPES[i]! * slope;
  }
}

/** Activity coefficient of one species [-]. */
export function activityCoefficient(
  medium: Medium,
  ionicStrength: number,
  name: keyof typeof SPECIES_INDEX,
): number {
  const all = new Float64Array(COUNT);
  lnActivities(medium, ionicStrength, all);
  return Math.exp(all[SPECIES_INDEX[name]]!);
}
