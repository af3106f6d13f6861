import { percolationYield } from './mass-balance.ts';

/** A measured value with its standard uncertainty, both in the same unit. */
export interface Measured {
  value: number;
  uncertainty: number;
}

/**
 * Standard uncertainty of a value known only to lie within ±limit, every place in it equally likely: limit/√3. JCGM
 * 100:2008 (GUM) 4.3.7. Meant for the "± 0.05 g" on a balance.
 */
export const withinLimit = (limit: number): number => limit / Math.sqrt(3);

/**
 * Yield of a percolation brew with its standard uncertainty, by first-order propagation of independent errors: (u/E)² =
 * (u_strength/strength)² + (u_beverage/beverage)² + (u_dose/dose)². JCGM 100:2008 (GUM) 5.1.6. A zero strength or
 * beverage gives yield 0 with the uncertainty that the other factors leave.
 */
export function measuredYield(strength: Measured, beverage: Measured, dose: Measured): Measured {
  const value = percolationYield(strength.value, beverage.value, dose.value);
  return {
    value,
    uncertainty: Math.hypot(
      (beverage.value / dose.value) * strength.uncertainty,
      (strength.value / dose.value) * beverage.uncertainty,
      (value / dose.value) * dose.uncertainty,
    ),
  };
}
