import { z } from 'zod';
import { above0, common, localId, number, refuse, refuseDuplicateIds } from '../fields.ts';

const label = z.string().trim().min(1).max(120);

/** Where a coffee that is scarce shall go. */
export const budget = z
  .strictObject({
    kind: z.literal('budget'),
    version: z.literal(1),
    ...common,
    /** All green there is. */
    green_g: number(0, 1_000_000),
    /** Mass lost in roasting. */
    loss_pct: number(0, 40).default(14),
    /** What must not fail: so many times, so much each. */
    uses: z
      .array(
        z.strictObject({
          id: localId,
          name: label,
          times: z.int().min(0).max(1_000),
          each_g: number(0, 10_000),
          /** Batch that it must come from; null: any. */
          batch_id: localId.nullable().default(null),
        }),
      )
      .max(60)
      .default([]),
    /** One brew of the search, purge included. */
    search_brew_g: above0(1_000),
    /** Batches by green mass; empty: one. */
    batches: z
      .array(z.strictObject({ id: localId, name: label, green_g: above0(1_000_000) }))
      .max(60)
      .default([]),
  })
  .check((ctx) => {
    const { uses, batches } = ctx.value;
    refuseDuplicateIds(ctx, 'uses', uses);
    refuseDuplicateIds(ctx, 'batches', batches);
    const known = new Set(batches.map(({ id }) => id));
    uses.forEach(({ batch_id }, i) => {
      if (batch_id !== null && !known.has(batch_id))
        refuse(ctx, ['uses', i, 'batch_id'], 'not_found', batch_id, { kind: 'roast batch' });
    });
  });
export type Budget = z.infer<typeof budget>;
