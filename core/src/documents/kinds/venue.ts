import { z } from 'zod';
import { common, number } from '../fields.ts';

/** Where the brew is made. */
export const venue = z.strictObject({
  kind: z.literal('venue'),
  version: z.literal(1),
  ...common,
  altitude_m: number(-500, 5_500).default(0),
  /** Measured station pressure; null takes the standard atmosphere at this altitude. */
  pressure_hPa: number(450, 1_100).nullable().default(null),
  air_C: number(-10, 50).default(21),
  humidity_pct: number(0, 100).default(50),
  mains_V: number(90, 260).nullable().default(null),
});
export type Venue = z.infer<typeof venue>;
