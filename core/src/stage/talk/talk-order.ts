import { z } from 'zod';
import { above0, localId, number } from '../../documents/fields.ts';
import { DRAFT_RATE } from './speech.ts';

/** Talk to be placed between what the hands do. */
export const talkOrder = z.strictObject({
  segments: z
    .array(
      z.strictObject({
        id: localId,
        text: z.string().max(20_000).default(''),
        /** From own rehearsals; null: by the text and the rate. */
        takes_s: number(0, 3_600).nullable().default(null),
        /** Silence after it. */
        pause_s: number(0, 600).default(0),
        /** Pinned to a moment; null: floats in order. */
        at_s: number(0, 7_200).nullable().default(null),
        /** How much earlier or later than its moment it may begin. */
        give_s: number(0, 600).default(0),
        may_be_cut: z.boolean().default(false),
        /** What leaving it out costs, on the scale of the total. */
        points: number(0, 1_000).default(0),
      }),
    )
    .max(200),
  rate: z.strictObject({ words_per_min: above0(600), characters_per_min: above0(1_000) }).default(DRAFT_RATE),
  /** When nobody should speak: demanding pours. */
  silent: z
    .array(
      z.strictObject({
        label: z.string().max(120).default('pour'),
        from_s: number(0, 7_200),
        to_s: number(0, 7_200),
      }),
    )
    .max(200)
    .default([]),
  from_s: number(0, 7_200).default(0),
  limit_s: number(0, 7_200).default(600),
});
export type TalkOrder = z.infer<typeof talkOrder>;
export type TalkSegment = TalkOrder['segments'][number];
