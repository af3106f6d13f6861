import { z } from 'zod';
import { above0, common, date, localId, number, refuse, refuseDuplicateIds } from '../fields.ts';
import { shown } from '../problem.ts';

type Context = Pick<z.core.ParsePayload, 'issues'>;

/** A rule: allowed, not allowed, or not known yet, to be asked at the briefing. */
export const ruling = z.enum(['allowed', 'not_allowed', 'unknown']);
export type Ruling = z.infer<typeof ruling>;

/** What rules of such contests speak of and a plan or a brewer can say about itself. */
export const RULED = [
  'own_water',
  'two_waters',
  'own_grinder',
  'grinding_in_setup',
  'grinding_on_stage',
  'ground_before',
  'bypass_water',
  'chilling',
  'immersion',
  'stirring',
  'additives',
  'own_kettle',
  'extra_electrical',
  'device_on_stage',
  'helper_on_stage',
  'coach_contact',
  'other_food_or_smells',
  'preheated_cups',
] as const;
export type Ruled = (typeof RULED)[number];

const seconds = number(0, 14_400).nullable().default(null);
const thing = z.enum(RULED);

export const category = z.strictObject({
  id: localId,
  name: z.string().trim().min(1).max(120),
  /** Who gives it: every sensory judge, or the head judge alone. */
  by: z.enum(['each_judge', 'head_judge']),
  weight: above0(100).default(1),
  min: number(-1000, 1000).default(0),
  max: number(-1000, 1000),
  step: above0(1000),
});
export type Category = z.infer<typeof category>;

/**
 * How marks become a total: each part is its factor times the weighted sum of its categories, over all judges or on average; the sum of all parts is
 * divided at the end.
 */
export const combination = z.strictObject({
  parts: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(120),
        category_ids: z.array(localId).min(1).max(60),
        over_judges: z.enum(['sum', 'mean']).default('mean'),
        factor: number(-1000, 1000).default(1),
      }),
    )
    .min(1)
    .max(20),
  divide_by: above0(10_000).default(1),
});
export type Combination = z.infer<typeof combination>;

/** What running over costs, on the scale of the total. */
export const penalty = z.strictObject({
  /** Seconds over the limit that cost nothing. */
  grace_s: number(0, 3_600).default(0),
  points: number(0, 1000),
  /** … for every so many seconds. */
  every_s: above0(3_600).default(1),
  /** A step that has begun counts in full, only whole steps count, or in proportion. */
  counts: z.enum(['begun', 'whole', 'in_proportion']).default('begun'),
  cap_points: number(0, 10_000).nullable().default(null),
  /** So many seconds over the limit end the run: disqualified. Null when nothing does. */
  hard_stop_s: number(0, 7_200).nullable().default(null),
});
export type OvertimePenalty = z.infer<typeof penalty>;

function refuseUnmarkable(ctx: Context, categories: readonly Category[]): void {
  categories.forEach(({ min, max }, i) => {
    if (max < min) refuse(ctx, ['categories', i, 'max'], 'max_below_min', max, { value: max, limit: min });
  });
}

function refuseUnknownCategories(ctx: Context, formula: Combination | null, ids: ReadonlySet<string>): void {
  formula?.parts.forEach((part, p) => {
    part.category_ids.forEach((id, c) => {
      if (!ids.has(id))
        refuse(ctx, ['combination', 'parts', p, 'category_ids', c], 'unknown_category', id, {
          allowed: ids.size === 0 ? 'none, for no category is listed' : [...ids].map(shown).join(', '),
        });
    });
  });
}

/** The rules of one round of one contest, as typed from its document of that day. What is null is not known: ask. */
export const contest = z
  .strictObject({
    kind: z.literal('contest'),
    version: z.literal(1),
    ...common,
    /** Round that these rules are for, for example "open round". */
    round: z.string().trim().max(120).default(''),
    /** Date of the rule document; rules change within weeks. */
    rules_of: date.nullable().default(null),
    timers: z
      .strictObject({ practice_s: seconds, setup_s: seconds, run_s: seconds, cleanup_s: seconds })
      .prefault({}),
    cups: z
      .strictObject({
        count: z.int().min(1).max(24).nullable().default(null),
        individually_brewed: z.boolean().nullable().default(null),
        min_mL: number(0, 2_000).nullable().default(null),
        max_mL: number(0, 2_000).nullable().default(null),
        strength_max_pct: number(0, 20).nullable().default(null),
      })
      .prefault({}),
    /** What is allowed; what is not listed is not known. */
    rules: z
      .array(z.strictObject({ of: thing, ruling, note: z.string().max(2_000).default('') }))
      .max(60)
      .default([]),
    /** Power that one competitor may draw in all; null when not known. */
    power_W: above0(50_000).nullable().default(null),
    judges: z.int().min(1).max(12).nullable().default(null),
    categories: z.array(category).max(60).default([]),
    combination: combination.nullable().default(null),
    /** Null when not known. */
    penalty: penalty.nullable().default(null),
    /** What may not be touched any more when set-up is over. */
    frozen_after_setup: z
      .array(z.enum(['grind', 'dose', 'water', 'kettle_fill', 'kettle_switch', 'cups', 'table']))
      .max(7)
      .default([]),
  })
  .check((ctx) => {
    const { categories, cups, rules } = ctx.value;
    refuseDuplicateIds(ctx, 'categories', categories);
    refuseUnmarkable(ctx, categories);
    refuseUnknownCategories(ctx, ctx.value.combination, new Set(categories.map(({ id }) => id)));
    const seen = new Set<string>();
    rules.forEach(({ of }, i) => {
      if (seen.has(of)) refuse(ctx, ['rules', i, 'of'], 'duplicate_id', of);
      seen.add(of);
    });
    if (cups.min_mL !== null && cups.max_mL !== null && cups.max_mL < cups.min_mL)
      refuse(ctx, ['cups', 'max_mL'], 'max_below_min', cups.max_mL, {
        value: `${cups.max_mL} mL`,
        limit: `${cups.min_mL} mL`,
      });
  });
export type Contest = z.infer<typeof contest>;
