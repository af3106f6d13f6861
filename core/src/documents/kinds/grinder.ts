import { z } from 'zod';
import { common, localId, number, refuse, refuseDuplicateIds } from '../fields.ts';

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
  .check((ctx) => {
    const sum = ctx.value.modes.reduce((total, mode) => total + mode.share, 0);
    if (Math.abs(sum - 1) > 1e-3) refuse(ctx, ['modes'], 'shares_not_one', sum, { value: round(sum) });
  });

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
    const sum = rows.reduce((total, row) => total + row.share, 0);
    if (Math.abs(sum - 1) > 1e-3) refuse(ctx, ['classes'], 'shares_not_one', sum, { value: round(sum) });
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

const round = (x: number): number => Math.round(x * 1e4) / 1e4;
