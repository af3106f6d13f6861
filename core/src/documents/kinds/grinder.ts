import { z } from 'zod';
import {
  common,
  date,
  localId,
  moment,
  number,
  refuse,
  refuseDuplicateIds,
  refuseSharesNotOne,
} from '../fields.ts';

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
    /** Where the burrs touch, whenever that was looked for: after cleaning it is often elsewhere on the dial. */
    zeros: z
      .array(z.strictObject({ id: localId, at: moment, touch_dial: number(-1_000, 100_000) }))
      .max(1_000)
      .default([]),
    /** Sets of burrs, in the order they were fitted. */
    burrs: z
      .array(
        z.strictObject({
          id: localId,
          name: z.string().trim().min(1).max(120),
          fitted_on: date.nullable().default(null),
          /** Coffee they had ground already when they were fitted. */
          used_kg: number(0, 1e6).default(0),
        }),
      )
      .max(50)
      .default([]),
  })
  .check((ctx) => {
    refuseDuplicateIds(ctx, 'settings', ctx.value.settings);
    refuseDuplicateIds(ctx, 'zeros', ctx.value.zeros);
    refuseDuplicateIds(ctx, 'burrs', ctx.value.burrs);
  });
export type Grinder = z.infer<typeof grinder>;
