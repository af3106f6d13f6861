import { type Component, type Composition, combine, pureWater } from '../composition.ts';
import { USUAL_METER } from '../meter.ts';
import { type Concentrate, type SaltJar, type Target, usualInstruments, type WaterOrder } from '../order.ts';
import type { Quantity } from '../quantities.ts';
import { perGram, SALTS, type SaltForm, saltWords } from '../salts.ts';

/** A jar of a usual salt. */
export const jar = (salt: SaltForm['salt'], hydrate = SALTS[salt].hydrates[0]!): SaltJar => ({
  id: `${salt}-${hydrate}`,
  name: saltWords({ salt, hydrate }),
  form: { salt, hydrate },
  assay_pct: SALTS[salt].assay_pct,
  amount_g: null,
  price_per_kg: null,
});

export const aim = (of: Quantity, value: number, more: Partial<Target> = {}): Target => ({
  of,
  aim: value,
  low: null,
  high: null,
  weight: 1,
  hard: false,
  ...more,
});

/** A concentrate of one salt by grams per litre; its density is that of water plus half the salt. */
export const concentrate = (
  form: SaltForm,
  g_per_L: number,
  more: Partial<Concentrate> = {},
): Concentrate => {
  const density = 0.998 + g_per_L / 2000;
  return {
    id: `concentrate-${form.salt}`,
    name: `concentrate of ${form.salt.replaceAll('_', ' ')}`,
    per_kg: combine([{ of: perGram(form), share: g_per_L / density }]),
    density,
    amount_g: null,
    uncertainty_pct: 0.5,
    made_of: [{ form, g_per_kg: g_per_L / density }],
    given_by: 'syringe',
    ...more,
  };
};

/** A water of some mg/L as CaCO3 of magnesium hardness and potassium alkalinity, the rest sulfate. */
export function residual(hardness: number, alkalinity: number): Composition {
  const mol = (mg: number) => mg / 100.086 / 997.047;
  const of: Partial<Record<Component, number>> = {
    magnesium: mol(hardness),
    potassium: 2 * mol(alkalinity),
    alkalinity: 2 * mol(alkalinity),
    carbon: 2 * mol(alkalinity),
    sulfate: mol(hardness),
  };
  return { ...pureWater(), ...of };
}

export const order = (more: Partial<WaterOrder>): WaterOrder => ({
  waters: [],
  bases: [{ id: 'ro', name: 'purified water', of: pureWater(), price_per_L: null, uncertainty_pct: 0 }],
  jars: [],
  concentrates: [],
  instruments: usualInstruments(USUAL_METER),
  ...more,
});

/** Eight salts as a well-stocked shelf has them. */
export const eightJars = (): SaltJar[] => [
  jar('magnesium_sulfate'),
  jar('magnesium_chloride'),
  jar('calcium_chloride'),
  jar('sodium_bicarbonate'),
  jar('potassium_bicarbonate'),
  jar('sodium_chloride'),
  jar('potassium_chloride'),
  jar('calcium_sulfate'),
];
