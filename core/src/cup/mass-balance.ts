/** Where water and solids go between kettle and cup. Masses [kg] or any one unit; strengths and yields as fractions. */

/** What a percolation brew is made from. */
export interface Percolation {
  /** Water poured. */
  water: number;
  /** Dry grounds. */
  dose: number;
  /** Liquid that the grounds keep, per mass of dose. */
  held: number;
  /** Solids in the server over dose. */
  cupYield: number;
  /** Strength of the held liquid; 0 when it was washed clean. */
  heldStrength?: number;
  /** Water lost to the air. */
  evaporated?: number;
}

/** What comes of it. */
export interface PercolationBalance {
  beverage: number;
  strength: number;
  /** Liquid left in the bed. */
  heldLiquid: number;
  /** All solids that left the grounds, those in the held liquid included, over dose. */
  totalYield: number;
}

/**
 * Closes the balance of a percolation brew: beverage = water + solids in the cup − water in the held liquid − vapour.
 * Conservation of mass; no empirical part.
 */
export function percolationBalance(brew: Percolation): PercolationBalance {
  const { water, dose, held, cupYield, heldStrength = 0, evaporated = 0 } = brew;
  const heldLiquid = held * dose;
  const solids = cupYield * dose;
  const heldSolids = heldStrength * heldLiquid;
  const beverage = water + solids - (heldLiquid - heldSolids) - evaporated;
  return {
    beverage,
    strength: solids / beverage,
    heldLiquid,
    totalYield: (solids + heldSolids) / dose,
  };
}

/** Yield of a percolation brew: solids in the beverage over dose, E = strength · beverage / dose. */
export const percolationYield = (strength: number, beverage: number, dose: number): number =>
  (strength * beverage) / dose;

/**
 * Yield of an immersion brew from the strength of its liquid, which is the same in the cup and in what the grounds hold:
 * E = strength/(1 − strength) · water / dose.
 */
export const immersionYield = (strength: number, water: number, dose: number): number =>
  ((strength / (1 - strength)) * water) / dose;

/** Brew ratio: poured water over dose; 16 for 1 : 16. */
export const brewRatio = (water: number, dose: number): number => water / dose;
