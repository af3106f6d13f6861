import { z } from 'zod';
import { above0, common, number } from '../fields.ts';

/** How an instrument prints over a serial port. */
export const serialLine = z.strictObject({
  baud: z.int().min(110).max(4_000_000).default(9_600),
  data_bits: z.union([z.literal(7), z.literal(8)]).default(8),
  stop_bits: z.union([z.literal(1), z.literal(2)]).default(1),
  parity: z.enum(['none', 'even', 'odd']).default('none'),
  /** What a line looks like, in the pattern words of `core/trace`; empty takes the first number with its unit. */
  pattern: z.string().max(200).default(''),
  /** Unit when the line names none. */
  unit: z.string().max(12).default(''),
  /** Sent to ask for a reading, for instruments that wait to be asked; empty listens only. */
  ask: z.string().max(40).default(''),
});
export type SerialLine = z.infer<typeof serialLine>;

/** A balance, refractometer or thermometer: how far to trust it, and how it speaks. */
export const instrument = z.strictObject({
  kind: z.literal('instrument'),
  version: z.literal(1),
  ...common,
  is: z.discriminatedUnion('what', [
    z.strictObject({
      what: z.literal('balance'),
      /** Smallest step it shows. */
      step_g: above0(10).default(0.1),
      /** How far a reading may be off, as its paper says. */
      limit_g: number(0, 10).default(0.1),
    }),
    z.strictObject({
      what: z.literal('refractometer'),
      shows: z.enum(['strength', 'brix']).default('strength'),
      step_pct: above0(1).default(0.01),
      /** Standard deviation when the same sample is read again. */
      repeat_pct: number(0, 1).default(0.01),
      /** How far the mean of many readings may be off, as its paper says. */
      limit_pct: number(0, 1).default(0.03),
      /** Sample temperature it is true for, and how far from that it corrects by itself. */
      reference_C: number(0, 60).default(20),
      corrects_from_C: number(-20, 100).default(10),
      corrects_to_C: number(-20, 100).default(40),
      /** Samples of which both are known: °Brix shown, and strength by drying or by a trusted instrument. */
      pairs: z
        .array(
          z.strictObject({
            brix: number(0, 40),
            strength_pct: number(0, 30),
            /** Standard uncertainty of that strength. */
            strength_doubt_pct: number(0, 5).default(0.02),
          }),
        )
        .max(200)
        .default([]),
    }),
    z.strictObject({
      what: z.literal('thermometer'),
      step_C: above0(5).default(0.1),
      limit_C: number(0, 10).default(0.5),
    }),
  ]),
  /** Null when it does not print. */
  serial: serialLine.nullable().default(null),
});
export type Instrument = z.infer<typeof instrument>;
