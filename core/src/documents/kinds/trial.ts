import { z } from 'zod';
import { above0, common, hash, id, moment, number } from '../fields.ts';

const measured = number(0, 100_000).nullable().default(null);

/** A brew that was made: what was measured. */
export const trial = z.strictObject({
  kind: z.literal('trial'),
  version: z.literal(1),
  ...common,
  plan_id: id,
  brewed_at: moment,
  dose_g: above0(200),
  water_g: measured,
  beverage_g: measured,
  drawdown_s: measured,
  /** Refractometer readings of one sample, % by mass. */
  strength_readings: z
    .array(z.strictObject({ strength_pct: number(0, 30), sample_C: number(0, 100).nullable().default(null) }))
    .max(20)
    .default([]),
  temperatures: z
    .array(
      z.strictObject({
        time_s: number(0, 7_200),
        where: z.enum(['kettle', 'head', 'bed_top', 'bed_middle', 'bed_bottom', 'drip', 'server']),
        temperature_C: number(-5, 101),
      }),
    )
    .max(2_000)
    .default([]),
  /** Recorded files, kept whole as attachments. */
  traces: z
    .array(z.strictObject({ attachment: hash, media_type: z.string().max(120), name: z.string().max(200) }))
    .max(40)
    .default([]),
});
export type Trial = z.infer<typeof trial>;
