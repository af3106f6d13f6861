import { z } from 'zod';
import { localId, number, refuse } from '../fields.ts';
import { tastingWord } from './words.ts';

/** The three digits on a cup. */
export const code = z.string().check((ctx) => {
  if (!/^\d{3}$/.test(ctx.value)) refuse(ctx, [], 'not_a_cup_code', ctx.value);
});

const picked = <T extends string>(test: T) => z.strictObject({ test: z.literal(test), code });

/** What a taster answers; which cup or set it is about stands beside it. */
export const tastingAnswer = z.discriminatedUnion('test', [
  /** The odd one. */
  picked('triangle'),
  /** The one that is the same as the reference. */
  picked('duo_trio'),
  /** The one that has most, or more. */
  picked('three_afc'),
  picked('paired'),
  /** One of the two groups. */
  z.strictObject({ test: z.literal('tetrad'), group: z.array(code).length(2) }),
  z.strictObject({ test: z.literal('a_not_a'), same: z.boolean() }),
  /** Most first; cups of one list share a place. */
  z.strictObject({
    test: z.literal('ranking'),
    order: z.array(z.array(code).min(1).max(40)).min(1).max(40),
  }),
  /** Null: no preference. */
  z.strictObject({ test: z.literal('preference'), code: code.nullable() }),
  z.strictObject({
    test: z.literal('intensity'),
    scores: z.array(z.strictObject({ id: localId, score: number(-1000, 1000) })).max(20),
  }),
  z.strictObject({ test: z.literal('check_all'), ticked: z.array(localId).max(60) }),
  /** −2 much too little, 0 just about right, 2 much too much. */
  z.strictObject({
    test: z.literal('just_about_right'),
    levels: z.array(z.strictObject({ id: localId, level: z.int().min(-2).max(2) })).max(20),
    liking: z.int().min(1).max(9).nullable().default(null),
  }),
  z.strictObject({
    test: z.literal('descriptors'),
    words: z.array(tastingWord).max(20),
    statements: z
      .array(z.strictObject({ id: localId, option: z.string().trim().min(1).max(60) }))
      .max(12)
      .default([]),
  }),
  /** Rising by time. With `dominant`, `on` is always true. */
  z.strictObject({
    test: z.literal('temporal'),
    clicks: z
      .array(z.strictObject({ id: localId, at_s: number(0, 300), on: z.boolean().default(true) }))
      .max(500),
  }),
]);
export type TastingAnswer = z.infer<typeof tastingAnswer>;
