import { z } from 'zod';
import { common, date, id, localId, number, refuse } from '../fields.ts';

/** A batch of one water of an order, as it is being made and as it was made: what really went in, the ticks, the meter. */
export const batch = z
  .strictObject({
    kind: z.literal('batch'),
    version: z.literal(1),
    ...common,
    mix_id: id,
    /** Which water of the order: its local id. */
    water_id: localId,
    /** What all of it weighs. */
    batch_g: number(1, 100_000),
    /** Doses that were weighed and came out otherwise than asked; what is not here went in as the sheet says. */
    given: z
      .array(z.strictObject({ item_id: z.string().min(1).max(60), given_g: number(0, 100_000) }))
      .max(40)
      .default([]),
    /** Steps that are done, by code and dose. */
    done: z.array(z.string().min(1).max(120)).max(80).default([]),
    /** What the meter showed, in the unit of the order's meter; null before it was measured. */
    meter_shows: number(0, 1_000_000).nullable().default(null),
    /** Temperature of the sample under the meter. */
    sample_C: number(-5, 110).default(25),
    made_on: date.nullable().default(null),
    use_by: date.nullable().default(null),
    /** Bottles that it fills: a label is printed for each. */
    bottles: z.int().min(1).max(100).default(1),
  })
  .check((ctx) => {
    const { made_on, use_by } = ctx.value;
    if (made_on && use_by && use_by < made_on)
      refuse(ctx, ['use_by'], 'dates_out_of_order', use_by, { value: use_by, limit: made_on });
  });
export type Batch = z.infer<typeof batch>;
