import { z } from 'zod';
import { SALT_NAMES } from '../../water/salts.ts';
import { common, date, number, refuse } from '../fields.ts';

/** A salt and the water it is sold with. */
export const saltForm = {
  salt: z.enum(SALT_NAMES),
  /** Molecules of water of crystallisation per formula, as the packet says: 7, 2, 0 for anhydrous. */
  hydrate: number(0, 12),
};

const assay = number(50, 150).nullable().default(null);

/** A jar of salt for waters. */
export const salt = z
  .strictObject({
    kind: z.literal('salt'),
    version: z.literal(1),
    ...common,
    ...saltForm,
    /** What it may hold, % of the formula on the packet; null takes what food grade allows. */
    assay_low_pct: assay,
    assay_high_pct: assay,
    /** Grams still in the jar. */
    amount_g: number(0, 1_000_000).nullable().default(null),
    price_per_kg: number(0, 1_000_000).nullable().default(null),
    /** The packet says food grade (FCC, Ph. Eur., E number). */
    food_grade: z.boolean().default(false),
    opened_on: date.nullable().default(null),
  })
  .check((ctx) => {
    const { assay_low_pct, assay_high_pct } = ctx.value;
    if (assay_low_pct !== null && assay_high_pct !== null && assay_low_pct > assay_high_pct)
      refuse(ctx, ['assay_high_pct'], 'too_small', assay_high_pct, { limit: `${assay_low_pct} %` });
  });
export type SaltDocument = z.infer<typeof salt>;
