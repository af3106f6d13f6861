import type { Quantity } from './quantity-names.ts';
import type { SaltName } from './salts.ts';

/** Words beside quantities and salts that sentences are filled with. */
const OTHER_TERMS = {
  gypsum: 'gypsum',
  magnesium_carbonate: 'magnesium carbonate',
  at_or_above: 'at or above',
  at_or_below: 'at or below',
  nothing_to_nothing: 'nothing to nothing',
  a_drop: 'a drop',
  infinity: 'infinity',
  who: 'WHO',
  eu_indicator: 'the EU (indicator)',
} as const;

/** A word that a sentence is filled with. A face in another language has its own word for each of these codes. */
export type WaterTerm = Quantity | SaltName | keyof typeof OTHER_TERMS;

/** The English words, by code. */
export const waterTerms: Readonly<Record<WaterTerm, string>> = {
  calcium: 'calcium',
  magnesium: 'magnesium',
  sodium: 'sodium',
  potassium: 'potassium',
  bicarbonate: 'bicarbonate',
  chloride: 'chloride',
  sulfate: 'sulfate',
  nitrate: 'nitrate',
  hardness: 'hardness',
  alkalinity: 'alkalinity',
  ion_sum: 'sum of ions',
  conductivity: 'conductivity',
  calcium_to_magnesium: 'calcium to magnesium (by mass)',
  chloride_to_sulfate: 'chloride to sulfate (by mass)',
  magnesium_sulfate: 'magnesium sulfate',
  magnesium_chloride: 'magnesium chloride',
  calcium_chloride: 'calcium chloride',
  calcium_sulfate: 'calcium sulfate',
  sodium_bicarbonate: 'sodium bicarbonate',
  potassium_bicarbonate: 'potassium bicarbonate',
  sodium_carbonate: 'sodium carbonate',
  potassium_carbonate: 'potassium carbonate',
  sodium_chloride: 'sodium chloride',
  potassium_chloride: 'potassium chloride',
  calcium_hydroxide: 'calcium hydroxide',
  calcium_carbonate: 'calcium carbonate',
  ...OTHER_TERMS,
};

/** What a quantity is called. */
export const quantityWords = (of: Quantity): string => waterTerms[of];
