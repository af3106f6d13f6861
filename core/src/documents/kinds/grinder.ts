import { z } from 'zod';
import { common, localId, number, refuse, refuseDuplicateIds, refuseSharesNotOne } from '../fields.ts';

/** Sizes as a sum of log-normal modes, by mass. */
const modes = z
  .strictObject({
    by: z.literal('modes'),
    modes: z
      .array(
        z.strictObject({
          /** Share of the mass in this mode, 0–1. */
          share: number(0, 1),
          /** Median by mass. */
          median_um: number(1, 5_000),
          /** Geometric standard deviation. */
          gsd: number(1.01, 4),
        }),
      )
      .min(1)
      .max(6),
  })
  .check((ctx) => refuseSharesNotOne(ctx, 'modes', ctx.value.modes));

/** Sizes as measured classes: from sieves, laser diffraction or a photograph. */
const classes = z
  .strictObject({
    by: z.literal('classes'),
    classes: z
      .array(z.strictObject({ diameter_um: number(1, 5_000), share: number(0, 1) }))
      .min(1)
      .max(400),
  })
  .check((ctx) => {
    const rows = ctx.value.classes;
    refuseSharesNotOne(ctx, 'classes', rows);
    rows.forEach((row, i) => {
      const before = rows[i - 1];
      if (before && row.diameter_um <= before.diameter_um)
        refuse(ctx, ['classes', i, 'diameter_um'], 'classes_not_rising', row.diameter_um);
    });
  });

/** A particle-size distribution by mass. */
export const distribution = z.discriminatedUnion('by', [modes, classes]);
export type Distribution = z.infer<typeof distribution>;

/** A grinder and the sizes each of its settings gives. */
export const grinder = z
  .strictObject({
    kind: z.literal('grinder'),
    version: z.literal(1),
    ...common,
    settings: z
      .array(
        z.strictObject({
          id: localId,
          /** Mark on the dial, counted from this grinder's own zero point. */
          mark: z.string().trim().min(1).max(60),
          distribution,
          /** Grams lost to the grinder per dose. */
          retention_g: number(0, 20).default(0),
        }),
      )
      .min(1)
      .max(200),
  })
  .check((ctx) => refuseDuplicateIds(ctx, 'settings', ctx.value.settings));
export type Grinder = z.infer<typeof grinder>;
