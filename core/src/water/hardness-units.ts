import { CACO3, molarMass } from './atoms.ts';

/** One grain [mg], by definition. */
const GRAIN = 64.79891;
/** Imperial and U.S. gallon [L], by definition. */
const IMPERIAL_GALLON = 4.54609;
const US_GALLON = 3.785411784;

/**
 * What one unit of hardness or alkalinity is in mg/L as calcium carbonate. `meq_L` counts charges; `dH` is the German
 * degree (10 mg CaO per litre), `fH` the French (10 mg CaCO3 per litre), `e` the English (a grain of CaCO3 per imperial
 * gallon), `gpg` a grain per U.S. gallon.
 */
export const HARDNESS_UNITS = {
  mg_L_CaCO3: 1,
  mmol_L: CACO3,
  meq_L: CACO3 / 2,
  dH: (10 * CACO3) / molarMass({ Ca: 1, O: 1 }),
  fH: 10,
  e: GRAIN / IMPERIAL_GALLON,
  gpg: GRAIN / US_GALLON,
} as const;

export type HardnessUnit = keyof typeof HARDNESS_UNITS;

/** Converts a hardness or an alkalinity from one unit to another. */
export const convertHardness = (value: number, from: HardnessUnit, to: HardnessUnit): number =>
  (value * HARDNESS_UNITS[from]) / HARDNESS_UNITS[to];
