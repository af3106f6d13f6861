import { z } from 'zod';
import { above0, common, date, number } from '../fields.ts';
import { saltForm } from './salt.ts';

/** What a concentrate is made of, as it is weighed, and what it is dosed with. */
export const concentrateFields = {
  parts: z
    .array(z.strictObject({ ...saltForm, salt_g: above0(10_000) }))
    .min(1)
    .max(8),
  water_g: above0(100_000),
  given_by: z.enum(['balance', 'syringe', 'drops']).default('syringe'),
};

/** A bottle of concentrate for waters. Never drunk. */
export const concentrate = z.strictObject({
  kind: z.literal('concentrate'),
  version: z.literal(1),
  ...common,
  ...concentrateFields,
  made_on: date.nullable().default(null),
  /** Grams still in the bottle; null when nobody has looked. */
  left_g: number(0, 200_000).nullable().default(null),
});
export type ConcentrateDocument = z.infer<typeof concentrate>;
