import { z } from 'zod';
import { common, date, number, refuse } from '../fields.ts';

/** One lot of roasted coffee. */
export const coffee = z
  .strictObject({
    kind: z.literal('coffee'),
    version: z.literal(1),
    ...common,
    process: z.string().max(120).default(''),
    roast: z.enum(['light', 'medium', 'dark']).default('light'),
    roasted_on: date.nullable().default(null),
    frozen_on: date.nullable().default(null),
    thawed_on: date.nullable().default(null),
    /** Roasted grams still in stock. */
    stock_g: number(0, 1_000_000).nullable().default(null),
    /** Water already in the roasted coffee, % of its mass. */
    moisture_pct: number(0, 15).default(2),
    /** What hot fresh water could carry away at most, % of the dose; null takes the default of the engine. */
    extractable_pct: number(5, 45).nullable().default(null),
    /** Carbon dioxide just after roasting, mg per g; null takes the default for the roast. */
    co2_at_roast_mg_g: number(0, 20).nullable().default(null),
  })
  .check((ctx) => {
    const { roasted_on, frozen_on, thawed_on } = ctx.value;
    refuseEarlier(ctx, 'frozen_on', frozen_on, roasted_on);
    refuseEarlier(ctx, 'thawed_on', thawed_on, frozen_on);
  });
export type Coffee = z.infer<typeof coffee>;

const isDate = (value: string | null): value is string => date.safeParse(value).success;

/** Reports a date before its limit; a date that is none has been reported by itself. */
function refuseEarlier(
  ctx: Parameters<typeof refuse>[0],
  field: string,
  value: string | null,
  limit: string | null,
): void {
  if (isDate(value) && isDate(limit) && value < limit)
    refuse(ctx, [field], 'dates_out_of_order', value, { limit });
}
