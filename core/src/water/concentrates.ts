import { type Composition, combine } from './composition.ts';
import type { Concentrate } from './order.ts';
import { figure, type WaterRemark, waterRemark } from './remarks.ts';
import { anhydrousMass, formMass, perGram, SALTS, type SaltForm, type SaltName } from './salts.ts';
import { type Mineral, saturationIndex } from './saturation.ts';
import { co2Pressure, type Speciation, speciate } from './speciate.ts';
import type { WaterTerm } from './terms.ts';

/** A concentrate as it is made: salts weighed into water. */
export interface ConcentrateRecipe {
  name: string;
  parts: readonly { form: SaltForm; grams: number }[];
  water_g: number;
}

/** Apparent molar volumes in dilute solution at 25 °C [cm³/mol] (Millero 1971, from memory). */
const MOLAR_VOLUME: Readonly<Partial<Record<keyof Composition, number>>> = {
  calcium: -17.85,
  magnesium: -21.17,
  sodium: -1.21,
  potassium: 9.02,
  alkalinity: 24.3, // as bicarbonate
  chloride: 17.83,
  sulfate: 13.98,
  nitrate: 29,
};

/** Water set free by the crystals [g]. */
const crystalWater = ({ parts }: ConcentrateRecipe): number =>
  parts.reduce((sum, { form, grams }) => sum + grams * (1 - anhydrousMass(form.salt) / formMass(form)), 0);

/** What a recipe dissolves [mol], all of it together. */
const dissolved = ({ parts }: ConcentrateRecipe): Composition =>
  combine(parts.map(({ form, grams }) => ({ of: perGram(form), share: grams })));

/** Composition per kilogram of the water in it [mol/kg], crystal water counted. */
export function molalities(recipe: ConcentrateRecipe): Composition {
  const water = (recipe.water_g + crystalWater(recipe)) / 1000;
  return combine([{ of: dissolved(recipe), share: 1 / water }]);
}

const totalMass = (recipe: ConcentrateRecipe): number =>
  recipe.water_g + recipe.parts.reduce((sum, { grams }) => sum + grams, 0);

/**
 * Density of a concentrate near 20 °C [kg/L]: mass over the volume of its water and of its ions. Good to about 0.5 % up to
 * 1 mol/kg; weigh 10 mL to know better.
 */
export function concentrateDensity(recipe: ConcentrateRecipe): number {
  const of = dissolved(recipe);
  let volume = (recipe.water_g + crystalWater(recipe)) / 0.9982;
  for (const [name, v] of Object.entries(MOLAR_VOLUME)) volume += v * of[name as keyof Composition];
  return totalMass(recipe) / volume;
}

/** A recipe as a bottle on the shelf. */
export function concentrateFrom(
  recipe: ConcentrateRecipe,
  more: Pick<Concentrate, 'id' | 'given_by' | 'uncertainty_pct'> & { amount_g?: number | null },
): Concentrate {
  const total = totalMass(recipe);
  return {
    id: more.id,
    name: recipe.name,
    per_kg: combine([{ of: dissolved(recipe), share: 1000 / total }]),
    density: concentrateDensity(recipe),
    amount_g: more.amount_g === undefined ? total : more.amount_g,
    uncertainty_pct: more.uncertainty_pct,
    made_of: recipe.parts.map(({ form, grams }) => ({ form, g_per_kg: (1000 * grams) / total })),
    given_by: more.given_by,
  };
}

/** Grams without crystal water that dissolve in a kilogram of water at t [°C], and the temperature the figure is for. */
export function solubilityAt(salt: SaltName, t: number): { g_per_kg: number; celsius: number } {
  const rows: readonly (readonly [number, number])[] = SALTS[salt].solubility;
  const first = rows[0]!;
  const last = rows.at(-1)!;
  if (t <= first[0]) return { g_per_kg: 10 * first[1], celsius: first[0] };
  if (t >= last[0]) return { g_per_kg: 10 * last[1], celsius: last[0] };
  const at = rows.findIndex(([celsius]) => celsius >= t);
  const [t0, g0] = rows[at - 1]!;
  const [t1, g1] = rows[at]!;
  return { g_per_kg: 10 * (g0 + ((t - t0) / (t1 - t0)) * (g1 - g0)), celsius: t };
}

/** Fridge and room [°C]. */
export const KEPT_AT = [5, 20] as const;

/** Days that a concentrate is kept in the fridge (common practice; no source). */
export const KEEPS_DAYS = 30;

/** Index from which a solid surely comes out of a bottle that stands for days, and from which it may. */
const SURE = 0.3;
const MAY = -0.1;

interface Pair {
  mineral: Mineral;
  term: WaterTerm;
  first: 'calcium' | 'magnesium';
  second: 'sulfate' | 'alkalinity';
}
const PAIRS: readonly Pair[] = [
  { mineral: 'gypsum', term: 'gypsum', first: 'calcium', second: 'sulfate' },
  { mineral: 'calcite', term: 'calcium_carbonate', first: 'calcium', second: 'alkalinity' },
  { mineral: 'nesquehonite', term: 'magnesium_carbonate', first: 'magnesium', second: 'alkalinity' },
];

/**
 * What may go wrong with a concentrate in the fridge and in the room: more than dissolves, salts that meet in a solid; and
 * what has to stand on its bottle. Solubility is that of each salt alone; of a pair, the saturation index of its solid.
 */
export function checkConcentrate(recipe: ConcentrateRecipe, about = ''): WaterRemark[] {
  const remarks: WaterRemark[] = [];
  const { name } = recipe;
  const add: Add = (level, code, values, terms = {}) =>
    remarks.push(waterRemark(level, code, about, { name, ...values }, terms));
  for (const celsius of KEPT_AT) sayTooMuch(recipe, celsius, add);
  const of = molalities(recipe);
  const states = KEPT_AT.map((temperature_C) => speciate(of, { temperature_C, carbon: 'closed' }));
  for (const pair of PAIRS) sayPair(recipe, pair, of, states, add);
  const room = states.at(-1)!;
  if (room.ionicStrength > 0.5) add('note', 'strong_model', { value: figure(room.ionicStrength, 2) });
  if (of.alkalinity > 0.02 && of.carbon > 0.9 * of.alkalinity)
    add('note', 'loses_CO2', { pressure: figure(co2Pressure(room), 2) });
  const [ion, perMole] = of.magnesium > 0 ? (['magnesium', 24.305] as const) : mostOf(of);
  const mouthful = 50 * of[ion] * perMole;
  add(
    'caution',
    'not_for_drinking',
    { amount: figure(mouthful, 2) },
    { ion: [ion === 'alkalinity' ? 'bicarbonate' : ion] },
  );
  add('note', 'keep_cold', { days: KEEPS_DAYS });
  return remarks;
}

type Add = (
  level: WaterRemark['level'],
  code: string,
  values: Record<string, string | number>,
  terms?: Record<string, WaterTerm[]>,
) => void;

function mostOf(of: Composition): readonly [Exclude<keyof Composition, 'carbon'>, number] {
  const list = [
    ['calcium', 40.078],
    ['sodium', 22.99],
    ['potassium', 39.098],
    ['alkalinity', 61.016],
  ] as const;
  return list.reduce((most, next) => (of[next[0]] * next[1] > of[most[0]] * most[1] ? next : most));
}

function sayTooMuch(recipe: ConcentrateRecipe, celsius: number, add: Add): void {
  const water = (recipe.water_g + crystalWater(recipe)) / 1000;
  const amounts = new Map<SaltName, number>();
  for (const { form, grams } of recipe.parts) {
    const bare = (grams * anhydrousMass(form.salt)) / formMass(form);
    amounts.set(form.salt, (amounts.get(form.salt) ?? 0) + bare / water);
  }
  for (const [salt, g] of amounts) {
    const limit = solubilityAt(salt, celsius);
    const values = { amount: figure(g), celsius, limit: figure(limit.g_per_kg) };
    if (g > limit.g_per_kg) add('problem', 'over_solubility', values, { salt: [salt] });
    else if (g > 0.8 * limit.g_per_kg) add('caution', 'near_solubility', values, { salt: [salt] });
    if (g > 0.5 * limit.g_per_kg && limit.celsius !== celsius)
      add('note', 'solubility_unknown', { ...values, nearest: limit.celsius }, { salt: [salt] });
  }
}

function sayPair(
  recipe: ConcentrateRecipe,
  pair: Pair,
  of: Composition,
  states: readonly Speciation[],
  add: Add,
): void {
  if (!(of[pair.first] > 0 && of[pair.second] > 0)) return;
  const indices = states.map((s) => saturationIndex(s, pair.mineral));
  const worst = indices.reduce((at, index, i) => (index > indices[at]! ? i : at), 0);
  const index = indices[worst]!;
  if (index < MAY) return;
  const bringing = (what: keyof Composition): SaltName[] => [
    ...new Set(recipe.parts.filter(({ form }) => perGram(form)[what] > 0).map(({ form }) => form.salt)),
  ];
  const sure = index >= SURE;
  add(
    sure ? 'problem' : 'caution',
    sure ? 'will_precipitate' : 'may_precipitate',
    { celsius: KEPT_AT[worst]!, index: `${index > 0 ? '+' : ''}${figure(index, 2)}` },
    { mineral: [pair.term], first: bringing(pair.first), second: bringing(pair.second) },
  );
}
