import type { Water } from '../documents/kinds/water.ts';
import { liquidDensity } from '../units/index.ts';
import { IONS, type Ions } from './basics.ts';

/**
 * What mixing and weighing conserve. Amounts in mol per kilogram of water; alkalinity in equivalents. Carbon is all
 * inorganic carbon: dissolved CO2, bicarbonate, carbonate and their pairs.
 */
export const COMPONENTS = [
  'calcium',
  'magnesium',
  'sodium',
  'potassium',
  'alkalinity',
  'chloride',
  'sulfate',
  'nitrate',
  'carbon',
] as const;
export type Component = (typeof COMPONENTS)[number];

/** A water, or what a kilogram or a mole of something gives to one, by conserved amounts [mol, alkalinity eq]. */
export type Composition = Record<Component, number>;

/** Density of water at 25 °C [kg/m³], at which "per litre" of documents is meant. IAPWS SR6-08. */
export const DENSITY_25 = liquidDensity(298.15); // 997.047

/** Nothing dissolved. */
export const pureWater = (): Composition => ({
  calcium: 0,
  magnesium: 0,
  sodium: 0,
  potassium: 0,
  alkalinity: 0,
  chloride: 0,
  sulfate: 0,
  nitrate: 0,
  carbon: 0,
});

/** Σ share · part, component by component. */
export function combine(
  parts: readonly { readonly of: Readonly<Composition>; readonly share: number }[],
): Composition {
  const sum = pureWater();
  for (const { of, share } of parts) for (const name of COMPONENTS) sum[name] += share * of[name];
  return sum;
}

/** Milligrams per litre at 25 °C that one millimole per kilogram of water is, by molar mass [g/mol]. */
export const mgPerLitre = (mol_kg: number, molarMass: number): number => mol_kg * molarMass * DENSITY_25;

/**
 * Composition of a water written in mg/L at 25 °C. Bicarbonate is read as the titrated alkalinity (which is how analyses
 * find it), and carbon set to the same amount, which is what it is near pH 8.3. A litre is taken to hold 997.05 g of
 * water: the ions of a brewing water move that by less than 0.1 %.
 */
export function compositionOf(water: Readonly<Ions>): Composition {
  const mol_kg = (mg_L: number, molarMass: number) => mg_L / molarMass / DENSITY_25;
  const alkalinity = mol_kg(water.bicarbonate_mg_L, IONS.bicarbonate_mg_L.molarMass);
  return {
    calcium: mol_kg(water.calcium_mg_L, IONS.calcium_mg_L.molarMass),
    magnesium: mol_kg(water.magnesium_mg_L, IONS.magnesium_mg_L.molarMass),
    sodium: mol_kg(water.sodium_mg_L, IONS.sodium_mg_L.molarMass),
    potassium: mol_kg(water.potassium_mg_L, IONS.potassium_mg_L.molarMass),
    alkalinity,
    chloride: mol_kg(water.chloride_mg_L, IONS.chloride_mg_L.molarMass),
    sulfate: mol_kg(water.sulfate_mg_L, IONS.sulfate_mg_L.molarMass),
    nitrate: mol_kg(water.nitrate_mg_L, IONS.nitrate_mg_L.molarMass),
    carbon: alkalinity,
  };
}

/** The fields of a water document for a composition [mg/L at 25 °C]; alkalinity is written as bicarbonate. */
export const ionsOf = (c: Readonly<Composition>): Pick<Water, keyof Ions> => ({
  calcium_mg_L: mgPerLitre(c.calcium, IONS.calcium_mg_L.molarMass),
  magnesium_mg_L: mgPerLitre(c.magnesium, IONS.magnesium_mg_L.molarMass),
  sodium_mg_L: mgPerLitre(c.sodium, IONS.sodium_mg_L.molarMass),
  potassium_mg_L: mgPerLitre(c.potassium, IONS.potassium_mg_L.molarMass),
  bicarbonate_mg_L: mgPerLitre(c.alkalinity, IONS.bicarbonate_mg_L.molarMass),
  chloride_mg_L: mgPerLitre(c.chloride, IONS.chloride_mg_L.molarMass),
  sulfate_mg_L: mgPerLitre(c.sulfate, IONS.sulfate_mg_L.molarMass),
  nitrate_mg_L: mgPerLitre(c.nitrate, IONS.nitrate_mg_L.molarMass),
});

/** Positive minus negative charge of the strong ions and the alkalinity [eq/kg]; 0 for a water that can be. */
export const excessCharge = (c: Readonly<Composition>): number =>
  c.sodium +
  c.potassium +
  2 * (c.calcium + c.magnesium) -
  c.alkalinity -
  c.chloride -
  2 * c.sulfate -
  c.nitrate;
