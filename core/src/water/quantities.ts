import { CACO3 } from './atoms.ts';
import { IONS } from './basics.ts';
import { COMPONENTS, type Component, type Composition, DENSITY_25 } from './composition.ts';
import { conductivity25 } from './conductivity.ts';
import { QUANTITIES, QUANTITY_NAMES, type Quantity } from './quantity-names.ts';
import { speciate } from './speciate.ts';

export { QUANTITIES, QUANTITY_NAMES, type Quantity };

type Functional = Partial<Record<Component, number>>;

const perMole = (molarMass: number): number => molarMass * DENSITY_25;
const ion = (field: keyof typeof IONS): number => perMole(IONS[field].molarMass);

/** Quantities that are sums over the composition: what one mol/kg of each component adds, in the quantity's unit. */
export const LINEAR: Partial<Record<Quantity, Functional>> = {
  calcium: { calcium: ion('calcium_mg_L') },
  magnesium: { magnesium: ion('magnesium_mg_L') },
  sodium: { sodium: ion('sodium_mg_L') },
  potassium: { potassium: ion('potassium_mg_L') },
  bicarbonate: { alkalinity: ion('bicarbonate_mg_L') },
  chloride: { chloride: ion('chloride_mg_L') },
  sulfate: { sulfate: ion('sulfate_mg_L') },
  nitrate: { nitrate: ion('nitrate_mg_L') },
  hardness: { calcium: perMole(CACO3), magnesium: perMole(CACO3) },
  alkalinity: { alkalinity: perMole(CACO3 / 2) },
  ion_sum: {
    calcium: ion('calcium_mg_L'),
    magnesium: ion('magnesium_mg_L'),
    sodium: ion('sodium_mg_L'),
    potassium: ion('potassium_mg_L'),
    alkalinity: ion('bicarbonate_mg_L'),
    chloride: ion('chloride_mg_L'),
    sulfate: ion('sulfate_mg_L'),
    nitrate: ion('nitrate_mg_L'),
  },
};

/** The two sides of a ratio. */
export const RATIOS: Partial<Record<Quantity, readonly [over: Quantity, under: Quantity]>> = {
  calcium_to_magnesium: ['calcium', 'magnesium'],
  chloride_to_sulfate: ['chloride', 'sulfate'],
};

/** Σ functional · composition. */
export function apply(f: Functional, c: Readonly<Composition>): number {
  let sum = 0;
  for (const name of COMPONENTS) sum += (f[name] ?? 0) * c[name];
  return sum;
}

/** Conductivity at 25 °C [µS/cm] of a composition standing open to air. */
export const conductivityOf = (c: Readonly<Composition>): number =>
  conductivity25(speciate(c, { temperature_C: 25, carbon: 'air' }));

/** A quantity of a water, in its unit. A ratio is NaN when both sides are zero, Infinity when only the lower one is. */
export function quantityOf(of: Quantity, c: Readonly<Composition>): number {
  const linear = LINEAR[of];
  if (linear) return apply(linear, c);
  const ratio = RATIOS[of];
  if (ratio) return quantityOf(ratio[0], c) / quantityOf(ratio[1], c);
  return conductivityOf(c);
}

/**
 * The quantity as a straight line near a composition: what one mol/kg of each component adds, and a constant. Exact for sums;
 * conductivity by differences. Ratios are not lines and have none.
 */
export function tangent(of: Quantity, near: Readonly<Composition>): { slope: Functional; at0: number } {
  const linear = LINEAR[of];
  if (linear) return { slope: linear, at0: 0 };
  const here = conductivityOf(near);
  const slope: Functional = {};
  let at0 = here;
  const step = 1e-5;
  for (const name of COMPONENTS) {
    if (name === 'carbon') continue;
    const moved = { ...near, [name]: near[name] + step };
    slope[name] = (conductivityOf(moved) - here) / step;
    at0 -= slope[name] * near[name];
  }
  return { slope, at0 };
}
