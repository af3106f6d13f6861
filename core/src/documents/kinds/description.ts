import { z } from 'zod';
import { common, id, localId, number, refuse, refuseDuplicateIds } from '../fields.ts';
import { tastingWord } from './words.ts';

const mark = number(-1_000, 1_000);
const outcome = (found: number, near: number, missed: number) =>
  z.strictObject({ found: mark, near: mark, missed: mark }).default({ found, near, missed });
const named = z.string().trim().min(1).max(80);

/** A flavour description: what is said of a cup, hot, warm and cold, what it rests on, and what it is worth. */
export const description = z
  .strictObject({
    kind: z.literal('description'),
    version: z.literal(1),
    ...common,
    /** Cups of closed tastings that it rests on. */
    sources: z
      .array(
        z.strictObject({
          tasting_id: id,
          sample_id: localId,
          /** Days after roasting when it was tasted; null: as the roast date and the tasting say. */
          age_d: number(0, 1_000).nullable().default(null),
        }),
      )
      .max(60)
      .default([]),
    /** Tree of words; null: the words that a new panel starts with. */
    words_id: id.nullable().default(null),
    said: z
      .array(z.strictObject({ id: localId, window: z.string().trim().min(1).max(40), word: tastingWord }))
      .max(40)
      .default([]),
    /** Statements with one right answer: acidity, body, balance. */
    statements: z
      .array(
        z.strictObject({
          id: localId,
          name: named,
          said: z.string().trim().min(1).max(60),
          /** Marks of one judge for the right answer, for one step beside it, for more. */
          points: z
            .strictObject({ exact: mark, one_step: mark, further: mark })
            .default({ exact: 2, one_step: 1, further: 0 }),
        }),
      )
      .max(12)
      .default([]),
    /** Marks of one judge for a word that is found, that only something near is found of, that is missed; by how wide the word is. */
    points: z
      .strictObject({
        precise: outcome(2, 0, -1),
        group: outcome(1, 0, 0),
        broad: outcome(0.5, 0, 0),
      })
      .prefault({}),
    /** Contest whose rules turn marks into points of the total; null: marks are what counts. */
    contest_id: id.nullable().default(null),
    /** Category of the contest that words and statements are marked in. */
    category_id: localId.nullable().default(null),
    judges: z.int().min(1).max(12).default(3),
    /** Days after roasting on the day it is served; null when not known. */
    served_age_d: number(0, 1_000).nullable().default(null),
    /** How far a taster is known to lie above the others on a statement, in steps of its answers. Used only where they stand here. */
    offsets: z
      .array(z.strictObject({ taster: named, name: named, steps: number(-10, 10) }))
      .max(200)
      .default([]),
  })
  .check((ctx) => {
    const { said, statements, category_id, contest_id } = ctx.value;
    refuseDuplicateIds(ctx, 'said', said);
    refuseDuplicateIds(ctx, 'statements', statements);
    if (category_id !== null && contest_id === null)
      refuse(ctx, ['contest_id'], 'missing', null, { expected: 'the contest that the category belongs to' });
  });
export type Description = z.infer<typeof description>;
