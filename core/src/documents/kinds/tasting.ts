import { z } from 'zod';
import {
  above0,
  common,
  id,
  localId,
  material,
  moment,
  number,
  refuse,
  refuseDuplicateIds,
} from '../fields.ts';
import { code, tastingAnswer } from './tasting-answer.ts';
import { method, shown, TWO_SAMPLE_TESTS } from './tasting-method.ts';

/** What may be in a cup and make somebody ill. */
const allergen = z.string().trim().min(1).max(40);

const sample = z.strictObject({
  id: localId,
  /** What it is. Tasters never see this before the session is closed. */
  name: z.string().trim().min(1).max(120),
  plan_id: id.nullable().default(null),
  trial_id: id.nullable().default(null),
  /** For the caffeine of a sip. */
  dose_g: above0(200).default(15),
  brew_mL: above0(5_000).default(225),
  caffeine_low_mg_g: number(0, 40).default(10),
  caffeine_high_mg_g: number(0, 40).default(12),
  may_carry: z.array(allergen).max(20).default([]),
});

const window = z
  .strictObject({
    id: localId,
    name: z.string().trim().min(1).max(40),
    /** Tasting may begin when the cup has cooled to this, and ends when it is down to `to_C`. */
    from_C: number(0, 65),
    to_C: number(0, 65),
  })
  .check((ctx) => {
    const { from_C, to_C } = ctx.value;
    if (to_C >= from_C) refuse(ctx, ['to_C'], 'window_upside_down', to_C, { limit: from_C });
  });

/** A cup as it cools on the table, for when windows open. */
const cooling = z.strictObject({
  /** Of the beverage as it arrives in the cup. */
  poured_C: number(20, 100).default(82),
  beverage_g: above0(1_000).default(60),
  cup: z
    .strictObject({
      material,
      mass_g: number(2, 2_000),
      inner_diameter_mm: number(20, 250),
      capacity_mL: number(10, 2_000),
      double_wall: z.boolean().default(false),
    })
    .default({
      material: 'porcelain',
      mass_g: 180,
      inner_diameter_mm: 70,
      capacity_mL: 150,
      double_wall: false,
    }),
  /** Of the empty cup; null when it stands at the temperature of the air. */
  cup_C: number(0, 100).nullable().default(null),
  air_C: number(-10, 50).default(21),
  humidity_pct: number(0, 100).default(50),
  altitude_m: number(-500, 5_500).default(0),
});

const run = z.strictObject({
  /** The method, samples and windows as they were run; the design beside it may have changed since. */
  method,
  samples: z.array(sample).min(1).max(24),
  windows: z.array(window).max(6),
  opened_at: moment,
  closed_at: moment,
  tasters: z
    .array(
      z.strictObject({
        seat: z.int().min(1).max(200),
        name: z.string().max(80),
        joined_at: moment,
        left_at: moment.nullable().default(null),
      }),
    )
    .max(200),
  /** Every set of cups that was planned for a seat that was taken: which code was which. */
  sets: z
    .array(
      z.strictObject({
        seat: z.int().min(1).max(200),
        /** Of this seat, from 1, in order of tasting. */
        set: z.int().min(1).max(400),
        flight: z.int().min(1).max(60),
        /** Null when the same cups are tasted in every window. */
        window_id: localId.nullable(),
        cups: z
          .array(z.strictObject({ code, sample_id: localId, known: z.boolean().default(false) }))
          .min(1)
          .max(60),
        /** Code or codes of the right answer, where there is one. */
        right: z.array(code).max(2).default([]),
      }),
    )
    .max(5_000),
  answers: z
    .array(
      z.strictObject({
        answer_id: z.uuid(),
        seat: z.int().min(1).max(200),
        set: z.int().min(1).max(400),
        code: code.nullable(),
        window_id: localId.nullable(),
        /** By the server's clock, and by the taster's own. */
        at: moment,
        device_at: moment,
        temperature_C: number(-5, 101).nullable(),
        /** False: another answer took its place, or it came after closing. */
        counts: z.boolean(),
        /** Before its window opened, or after it closed. */
        outside: z.boolean().default(false),
        answer: tastingAnswer,
      }),
    )
    .max(20_000),
  /** Flights poured, and temperatures read off a cup. */
  poured: z.array(z.strictObject({ flight: z.int().min(1).max(60), at: moment })).max(600),
  measured: z
    .array(z.strictObject({ flight: z.int().min(1).max(60), at: moment, temperature_C: number(-5, 101) }))
    .max(2_000),
  /** Looks at the pour sheet before closing: whoever had one is not blind. */
  sheet_seen: z.array(z.strictObject({ at: moment, by: z.string().max(120) })).max(500),
});

/** A blind tasting: how it is set out, and after closing what came of it. */
export const tasting = z
  .strictObject({
    kind: z.literal('tasting'),
    version: z.literal(1),
    ...common,
    method,
    samples: z.array(sample).min(1).max(24),
    /** Samples that come twice under different codes, to see who repeats. Only where every cup is judged by itself. */
    hidden_repeats: z.array(localId).max(12).default([]),
    /** How often each taster does the whole. */
    repeats: z.int().min(1).max(20).default(1),
    /** Cups for each taster, when nobody tastes all; null: everybody tastes all. */
    cups_each: z.int().min(2).max(24).nullable().default(null),
    /** At which cup temperatures; empty: whenever. */
    windows: z.array(window).max(6).default([]),
    cooling: cooling.prefault({}),
    /** Expected tasters; some seats more are kept ready for latecomers. */
    seats: z.int().min(1).max(100).default(5),
    spare_seats: z.int().min(0).max(50).default(2),
    /** What tasters read on their device. Must not give anything away. */
    title: shown(120).default(''),
    instructions: shown(1_000).default(''),
    sip_mL: number(1, 200).default(15),
    rest: z
      .strictObject({
        rinse_s: number(0, 600).default(30),
        break_s: number(0, 7_200).default(300),
        cups_per_break: z.int().min(1).max(60).default(6),
      })
      .prefault({}),
    /** Chance of a false alarm that is accepted, and the difference one wants to find. */
    alpha: number(0.0001, 0.5).default(0.05),
    wanted_d_prime: number(0.1, 8).default(1.5),
    /** Tasters see what they had once the session is closed. */
    tell_tasters: z.boolean().default(true),
    /** Null until the session is closed. */
    run: run.nullable().default(null),
  })
  .check((ctx) => {
    const { samples, method: asked, hidden_repeats, windows } = ctx.value;
    refuseDuplicateIds(ctx, 'samples', samples);
    refuseDuplicateIds(ctx, 'windows', windows);
    refuseUnknownSample(ctx, ['hidden_repeats'], hidden_repeats);
    if (asked.test === 'three_afc' || (asked.test === 'paired' && asked.stronger_id !== null))
      refuseUnknownSample(ctx, ['method', 'stronger_id'], asked.stronger_id ?? '');
    if (asked.test === 'a_not_a') refuseUnknownSample(ctx, ['method', 'known_id'], asked.known_id);
    const needs = TWO_SAMPLE_TESTS.includes(asked.test);
    if (needs && samples.length !== 2)
      refuse(ctx, ['samples'], 'two_samples', samples.length, { value: samples.length });
    if ((asked.test === 'ranking' || asked.test === 'preference') && samples.length < 2)
      refuse(ctx, ['samples'], 'too_few', samples.length, { value: samples.length, limit: 2 });
  });
export type Tasting = z.infer<typeof tasting>;
export type TastingRun = z.infer<typeof run>;
export type TastingWindow = z.infer<typeof window>;
export type TastingSample = z.infer<typeof sample>;

type Context = Pick<z.core.ParsePayload, 'issues'> & { value: { samples: readonly { id: string }[] } };

/** Reports names of samples that are not in the list. */
function refuseUnknownSample(
  ctx: Context,
  path: (string | number)[],
  used: string | readonly string[],
): void {
  const known = ctx.value.samples.map((s) => s.id);
  const allowed = known.map((k) => JSON.stringify(k)).join(', ');
  if (typeof used === 'string') {
    if (!known.includes(used)) refuse(ctx, path, 'unknown_sample', used, { allowed });
    return;
  }
  used.forEach((name, i) => {
    if (!known.includes(name)) refuse(ctx, [...path, i], 'unknown_sample', name, { allowed });
  });
}
