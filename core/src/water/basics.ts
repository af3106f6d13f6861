import type { Water } from '../documents/kinds/water.ts';
import { CACO3, molarMass } from './atoms.ts';

/** Fields of a water document that hold an ion. */
export type IonField = Extract<keyof Water, `${string}_mg_L`>;

/** A water by its ions alone [mg/L], each counted whole as the ion. */
export type Ions = Pick<Water, IonField>;

/** Molar mass [g/mol] and charge of every ion a water document holds. */
export const IONS: Readonly<Record<IonField, { molarMass: number; charge: number }>> = {
  calcium_mg_L: { molarMass: molarMass({ Ca: 1 }), charge: 2 },
  magnesium_mg_L: { molarMass: molarMass({ Mg: 1 }), charge: 2 },
  sodium_mg_L: { molarMass: molarMass({ Na: 1 }), charge: 1 },
  potassium_mg_L: { molarMass: molarMass({ K: 1 }), charge: 1 },
  bicarbonate_mg_L: { molarMass: molarMass({ H: 1, C: 1, O: 3 }), charge: -1 },
  chloride_mg_L: { molarMass: molarMass({ Cl: 1 }), charge: -1 },
  sulfate_mg_L: { molarMass: molarMass({ S: 1, O: 4 }), charge: -2 },
  nitrate_mg_L: { molarMass: molarMass({ N: 1, O: 3 }), charge: -1 },
};

/** The ion fields, cations first. */
export const ION_FIELDS = Object.keys(IONS) as IonField[];

/** Amount of one ion [mmol/L]. */
export const amountOf = (ions: Ions, field: IonField): number => ions[field] / IONS[field].molarMass;

/** Total hardness [mg/L as CaCO3]: calcium and magnesium together. */
export const hardness = (ions: Ions): number =>
  CACO3 * (amountOf(ions, 'calcium_mg_L') + amountOf(ions, 'magnesium_mg_L'));

/**
 * Alkalinity [mg/L as CaCO3] of the bicarbonate entered. Carbonate, hydroxide and hydrogen ions are left out: together
 * under 2 % of the alkalinity between pH 6 and 8.
 */
export const alkalinity = (ions: Ions): number => (CACO3 / 2) * amountOf(ions, 'bicarbonate_mg_L');

/** Sum of all ions [mg/L], bicarbonate counted whole. Not what a conductivity meter calls "ppm". */
export const ionSum = (ions: Ions): number => ION_FIELDS.reduce((sum, field) => sum + ions[field], 0);

/** Positive and negative charge of a water, both as positive numbers [meq/L]. */
export function chargeSums(ions: Ions): { positive: number; negative: number } {
  let positive = 0;
  let negative = 0;
  for (const field of ION_FIELDS) {
    const charge = amountOf(ions, field) * IONS[field].charge;
    if (charge > 0) positive += charge;
    else negative -= charge;
  }
  return { positive, negative };
}

/**
 * How far positive and negative charges are apart [%]: 100 (cations − anions)/(cations + anions) in milliequivalents.
 * Positive when cations are in excess, 0 for water without ions. Beyond ±5 % an analysis is usually called incomplete
 * (from memory: the limit of quality control in water laboratories).
 */
export function chargeImbalance(ions: Ions): number {
  const { positive, negative } = chargeSums(ions);
  return positive + negative === 0 ? 0 : (100 * (positive - negative)) / (positive + negative);
}

/** A portion of a composite water. */
export interface WaterPart {
  ions: Ions;
  /** Poured mass, any unit, the same for all parts. */
  mass: number;
}

/**
 * What several waters make together [mg/L]: every ion is the mean over the poured masses. Ions mix linearly, pH does not.
 * Densities of brewing waters differ by less than 1e-3 and are taken as one.
 * @throws RangeError when a mass is negative or not finite, or when all are zero.
 */
export function compositeWater(parts: readonly WaterPart[]): Ions {
  let mass = 0;
  for (const part of parts) {
    if (!(part.mass >= 0 && Number.isFinite(part.mass)))
      throw new RangeError(`compositeWater: mass ${part.mass} is not a finite mass of 0 or more`);
    mass += part.mass;
  }
  if (mass === 0) throw new RangeError('compositeWater: no mass at all');
  const mean = (field: IonField): number =>
    parts.reduce((sum, part) => sum + part.ions[field] * (part.mass / mass), 0);
  return Object.fromEntries(ION_FIELDS.map((field) => [field, mean(field)])) as unknown as Ions;
}
