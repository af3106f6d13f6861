import { z } from 'zod';
import { type ConcentrateDocument, concentrateFields } from '../documents/kinds/concentrate.ts';
import { baseFields, instruments, type Mix, wantedFields } from '../documents/kinds/mix.ts';
import { type SaltDocument, saltForm } from '../documents/kinds/salt.ts';
import type { Water } from '../documents/kinds/water.ts';
import { type Checked, checkSchema, type Problem, problem } from '../documents/problem.ts';
import { ION_FIELDS, type Ions } from './basics.ts';
import { compositionOf } from './composition.ts';
import { type ConcentrateRecipe, concentrateFrom } from './concentrates.ts';
import type { WaterLabel } from './label.ts';
import type { BaseWater, Concentrate, SaltJar, WaterOrder } from './order.ts';
import { SALTS, type SaltForm, saltWords } from './salts.ts';
import { ofAssay, ofWeighing } from './uncertainty.ts';

/** What a mix points to, by id. */
export type OrderLookup = (id: string) => { kind: string } | undefined;

/** The recipe of a concentrate document. */
export const recipeOf = (of: Pick<ConcentrateDocument, 'name' | 'parts' | 'water_g'>): ConcentrateRecipe => ({
  name: of.name,
  parts: of.parts.map(({ salt, hydrate, salt_g }) => ({ form: { salt, hydrate }, grams: salt_g })),
  water_g: of.water_g,
});

/** A salt document as a jar. */
export function jarOf(
  of: Pick<
    SaltDocument,
    'salt' | 'hydrate' | 'amount_g' | 'price_per_kg' | 'assay_low_pct' | 'assay_high_pct'
  > & {
    id: string;
    name: string;
  },
): SaltJar {
  const [low, high] = SALTS[of.salt].assay_pct;
  return {
    id: of.id,
    name: of.name,
    form: { salt: of.salt, hydrate: of.hydrate },
    assay_pct: [of.assay_low_pct ?? Math.min(low, of.assay_high_pct ?? low), of.assay_high_pct ?? high],
    amount_g: of.amount_g,
    price_per_kg: of.price_per_kg,
  };
}

function bottleOf(
  of: Pick<ConcentrateDocument, 'name' | 'parts' | 'water_g' | 'given_by'>,
  id: string,
  left_g: number | null,
  balanceStep_g: number,
): Concentrate {
  const recipe = recipeOf(of);
  const u = recipe.parts.map(({ form, grams }) =>
    Math.hypot(ofWeighing(balanceStep_g) / grams, ofAssay(SALTS[form.salt].assay_pct)),
  );
  return concentrateFrom(recipe, {
    id,
    given_by: of.given_by,
    uncertainty_pct: 100 * Math.max(...u),
    amount_g: left_g,
  });
}

/** Gathers what a mix points to into an order, or says which reference leads nowhere. */
export function gatherOrder(mix: Mix, lookup: OrderLookup): Checked<WaterOrder> {
  const problems: Problem[] = [];
  const find = <T extends { kind: string }>(
    kind: T['kind'],
    id: string,
    path: (string | number)[],
  ): T | null => {
    const found = lookup(id);
    if (found?.kind === kind) return found as T;
    problems.push(problem(path, 'not_found', { kind }));
    return null;
  };
  const bases: BaseWater[] = mix.bases.flatMap(({ water_id, ...base }, i) => {
    const water = find<Water>('water', water_id, ['bases', i, 'water_id']);
    return water ? [{ id: water.id, name: water.name, of: compositionOf(water), ...base }] : [];
  });
  const jars = mix.salt_ids.flatMap((id, i) => {
    const salt = find<SaltDocument>('salt', id, ['salt_ids', i]);
    return salt ? [jarOf(salt)] : [];
  });
  const step = mix.instruments.balance.step_g;
  const concentrates = mix.concentrate_ids.flatMap((id, i) => {
    const found = find<ConcentrateDocument>('concentrate', id, ['concentrate_ids', i]);
    return found ? [bottleOf(found, found.id, found.left_g, step)] : [];
  });
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, value: { waters: mix.waters, bases, jars, concentrates, instruments: mix.instruments } };
}

const ions = z.strictObject(
  Object.fromEntries(ION_FIELDS.map((f) => [f, z.number().min(0).max(5000).default(0)])) as Record<
    keyof Ions,
    z.ZodDefault<z.ZodNumber>
  >,
);

/** An order written by hand in one piece, without documents: names only, no ids. */
export const plainOrder = z.strictObject({
  waters: z.array(z.strictObject(wantedFields)).min(1).max(8),
  bases: z
    .array(z.strictObject({ name: wantedFields.name, ...ions.shape, ...baseFields }))
    .max(12)
    .default([]),
  salts: z
    .array(
      z.strictObject({
        ...saltForm,
        amount_g: z.number().min(0).nullable().default(null),
        price_per_kg: z.number().min(0).nullable().default(null),
        assay_low_pct: z.number().min(50).max(150).nullable().default(null),
        assay_high_pct: z.number().min(50).max(150).nullable().default(null),
      }),
    )
    .max(24)
    .default([]),
  concentrates: z
    .array(z.strictObject({ name: wantedFields.name, ...concentrateFields }))
    .max(24)
    .default([]),
  instruments: instruments.prefault({}),
});

/** Checks an order written by hand and makes it ready to solve. Never throws; every problem carries its path. */
export function readPlainOrder(input: unknown): Checked<WaterOrder> {
  const checked = checkSchema(plainOrder, input);
  if (!checked.ok) return checked;
  const { waters, bases, salts, concentrates, instruments: with_ } = checked.value;
  const nameOf = (form: SaltForm) => saltWords(form);
  return {
    ok: true,
    value: {
      waters: waters.map((water, i) => ({ id: `water-${i + 1}`, ...water })),
      bases: bases.map(({ name, price_per_L, uncertainty_pct, ...of }, i) => ({
        id: `base-${i + 1}`,
        name,
        of: compositionOf(of),
        price_per_L,
        uncertainty_pct,
      })),
      jars: salts.map((salt, i) => jarOf({ id: `salt-${i + 1}`, name: nameOf(salt), ...salt })),
      concentrates: concentrates.map((of, i) =>
        bottleOf(of, `concentrate-${i + 1}`, null, with_.balance.step_g),
      ),
      instruments: with_,
    },
  };
}

/** A water written by hand: its ions, and what else is said of it. */
export const plainWater = z.strictObject({
  name: z.string().trim().min(1).max(120).default('the water'),
  ...Object.fromEntries(ION_FIELDS.map((f) => [f, ions.shape[f].optional()])),
  pH: z.number().min(0).max(14).optional(),
  hardness_mg_L_CaCO3: z.number().min(0).max(20_000).optional(),
  alkalinity_mg_L_CaCO3: z.number().min(0).max(20_000).optional(),
  residue_mg_per_L: z.number().min(0).max(100_000).optional(),
  conductivity_uS_cm: z.number().min(0).max(100_000).optional(),
});

/** Checks a water written by hand and gives it as a label: what is not said is left out. */
export function readPlainWater(input: unknown): Checked<WaterLabel> {
  const checked = checkSchema(plainWater, input);
  if (!checked.ok) return checked;
  const { name, pH, hardness_mg_L_CaCO3, alkalinity_mg_L_CaCO3, residue_mg_per_L, conductivity_uS_cm } =
    checked.value;
  const given = input as Partial<Ions>;
  const said = Object.fromEntries(ION_FIELDS.filter((f) => given[f] !== undefined).map((f) => [f, given[f]]));
  const label: WaterLabel = { name, ions: said };
  if (pH !== undefined) label.pH = pH;
  if (hardness_mg_L_CaCO3 !== undefined) label.hardness = hardness_mg_L_CaCO3;
  if (alkalinity_mg_L_CaCO3 !== undefined) label.alkalinity = alkalinity_mg_L_CaCO3;
  if (residue_mg_per_L !== undefined) label.residue = residue_mg_per_L;
  if (conductivity_uS_cm !== undefined) label.conductivity = conductivity_uS_cm;
  return { ok: true, value: label };
}

const plainMixture = z.strictObject({
  parts: z
    .array(z.strictObject({ mass_g: z.number().min(0).max(1e9), water: z.unknown() }))
    .min(1)
    .max(50),
});

/** Checks waters to be mixed, written by hand: `{ "parts": [{ "mass_g": 100, "water": { ... } }] }`. */
export function readPlainMixture(input: unknown): Checked<{ mass_g: number; water: WaterLabel }[]> {
  const checked = checkSchema(plainMixture, input);
  if (!checked.ok) return checked;
  const problems: Problem[] = [];
  const parts = checked.value.parts.flatMap(({ mass_g, water }, i) => {
    const read = readPlainWater(water);
    if (read.ok) return [{ mass_g, water: read.value }];
    for (const { path, code, values } of read.problems) {
      const { field: _, ...rest } = values;
      problems.push(problem(['parts', i, 'water', ...path], code, rest));
    }
    return [];
  });
  if (problems.length > 0) return { ok: false, problems };
  if (parts.every(({ mass_g }) => mass_g === 0))
    return {
      ok: false,
      problems: [problem(['parts', 0, 'mass_g'], 'not_above', { value: '0 g', limit: '0 g' })],
    };
  return { ok: true, value: parts };
}
