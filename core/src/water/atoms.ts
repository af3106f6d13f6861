/**
 * Standard atomic weights [g/mol], IUPAC abridged to five figures (from memory; the salts made of them agree with the
 * molar masses that the JECFA monographs print).
 */
export const ATOMIC_WEIGHT = {
  H: 1.008,
  C: 12.011,
  N: 14.007,
  O: 15.999,
  Na: 22.99,
  Mg: 24.305,
  S: 32.06,
  Cl: 35.45,
  K: 39.0983,
  Ca: 40.078,
} as const;

/** How many atoms of each element a formula holds: CaCl2·2H2O is `{ Ca: 1, Cl: 2, H: 4, O: 2 }`. */
export type Formula = Partial<Record<keyof typeof ATOMIC_WEIGHT, number>>;

/** Molar mass of a formula [g/mol]. */
export function molarMass(formula: Formula): number {
  let sum = 0;
  for (const [element, count] of Object.entries(formula))
    sum += ATOMIC_WEIGHT[element as keyof typeof ATOMIC_WEIGHT] * count;
  return sum;
}

/** Molar mass of calcium carbonate [g/mol], by which hardness and alkalinity are written. */
export const CACO3 = molarMass({ Ca: 1, C: 1, O: 3 }); // 100.086
