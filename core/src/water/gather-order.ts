import { z } from 'zod';
import { type ConcentrateDocument, concentrateFields } from '../documents/kinds/concentrate.ts';
import { baseFields, instruments, type Mix, wantedFields } from '../documents/kinds/mix.ts';
import { type SaltDocument, saltForm } from '../documents/kinds/salt.ts';
import type { Water } from '../documents/kinds/water.ts';
import { type Checked, checkSchema, type Problem, problem } from '../documents/problem.ts';
import { ION_FIELDS, type Ions } from './basics.ts';
import { compositionOf } from './composition.ts';
import { type ConcentrateRecipe, concentrateFrom } from './concentrates.ts';
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
