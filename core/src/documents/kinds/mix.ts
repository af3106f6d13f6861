import { z } from 'zod';
import { QUANTITY_NAMES } from '../../water/quantity-names.ts';
import { above0, common, id, localId, number, refuseDuplicateIds } from '../fields.ts';

const figure = number(-1e6, 1e6).nullable().default(null);

/** One thing a water is asked for, in the unit of its quantity: mg/L of an ion, mg/L as CaCO3, µS/cm, or mg per mg. */
export const target = z.strictObject({
  of: z.enum(QUANTITY_NAMES),
  aim: figure,
  low: figure,
  high: figure,
  weight: above0(1000).default(1),
  /** The range must be kept. */
  hard: z.boolean().default(false),
});

/** A water to be made. */
export const wantedFields = {
  name: z.string().trim().min(1).max(120),
  batch_g: number(1, 100_000).default(1000),
  /** Grams that one brew takes of it; null leaves it out of the composite water. */
  poured_g: number(0, 5_000).nullable().default(null),
  targets: z.array(target).max(QUANTITY_NAMES.length),
};

const meterScale = z.discriminatedUnion('by', [
  z.strictObject({ by: z.literal('uS_cm') }),
  z.strictObject({ by: z.literal('factor'), factor: number(0.3, 1) }),
  z.strictObject({ by: z.literal('NaCl') }),
  z.strictObject({ by: z.literal('KCl') }),
  z.strictObject({ by: z.literal('442') }),
]);
const compensation = z.discriminatedUnion('by', [
  z.strictObject({ by: z.literal('none') }),
  z.strictObject({ by: z.literal('linear'), per_K: number(0, 0.05) }),
  z.strictObject({ by: z.literal('iso7888') }),
]);

/** What is weighed, dosed and measured with. */
export const instruments = z.strictObject({
  balance: z
    .strictObject({ step_g: number(1e-5, 10), capacity_g: above0(100_000) })
    .default({ step_g: 0.01, capacity_g: 200 }),
  water_balance: z.strictObject({ step_g: number(1e-3, 100) }).default({ step_g: 1 }),
  syringe: z
    .strictObject({ step_mL: number(1e-3, 10), accuracy_mL: number(0, 10), capacity_mL: above0(1000) })
    .nullable()
    .default({ step_mL: 0.1, accuracy_mL: 0.05, capacity_mL: 10 }),
  /** Mass of a drop, from weighing fifty, and its scatter from drop to drop. */
  drop: z
    .strictObject({ mass_g: number(0.005, 0.5), scatter_pct: number(0, 50) })
    .nullable()
    .default(null),
  meter: z
    .strictObject({
      scale: meterScale,
      compensation,
      accuracy_pct: number(0, 50),
      /** Step of the display, in its own unit. */
      step: number(0, 100),
    })
    .default({
      scale: { by: 'factor', factor: 0.5 },
      compensation: { by: 'linear', per_K: 0.02 },
      accuracy_pct: 2,
      step: 1,
    }),
});

/** What a base water costs and how well it is known. */
export const baseFields = {
  price_per_L: number(0, 10_000).nullable().default(null),
  /** How far its analysis may be off, standard uncertainty. */
  uncertainty_pct: number(0, 100).default(5),
};

/** An order of waters to be made together: which, from what, with which instruments. */
export const mix = z
  .strictObject({
    kind: z.literal('mix'),
    version: z.literal(1),
    ...common,
    waters: z
      .array(z.strictObject({ id: localId, ...wantedFields }))
      .min(1)
      .max(8),
    bases: z
      .array(z.strictObject({ water_id: id, ...baseFields }))
      .max(12)
      .default([]),
    salt_ids: z.array(id).max(24).default([]),
    concentrate_ids: z.array(id).max(24).default([]),
    instruments: instruments.prefault({}),
    /** Largest container that may be taken along; null when nothing limits it. */
    container_mL: above0(10_000).nullable().default(null),
  })
  .check((ctx) => refuseDuplicateIds(ctx, 'waters', ctx.value.waters));
export type Mix = z.infer<typeof mix>;
