import { z } from 'zod';
import { above0, number } from '../../documents/fields.ts';

/** A wait between two pours, start to start: exact, or with a least and a most. */
const gap = z.union([
  number(0, 3_600),
  z.strictObject({ min: number(0, 3_600), max: number(0, 3_600).nullable().default(null) }),
]);

/** One kettle, as full and hot as it stands when the run starts. */
const kettle = z.strictObject({
  name: z.string().trim().min(1).max(60).default('kettle'),
  fill_g: above0(10_000),
  /** What cannot be poured from it any more (common practice: the spout draws air before it is empty). */
  keep_g: number(0, 5_000).default(50),
  power_W: number(0, 5_000).default(0),
  start_C: number(0, 100.5).default(94),
  /** What its base holds; null: as it starts. */
  set_C: number(0, 100.5).nullable().default(null),
  between: z.enum(['on_base', 'off_base']).default('on_base'),
  body_equivalent_g: number(0, 1_000).default(100),
  loss_W_K: number(0.05, 20).default(1.2),
});
export type StageKettle = z.infer<typeof kettle>;

/** Several brewers to be poured by few hands. */
export const brewerOrder = z.strictObject({
  brewers: z.int().min(1).max(24),
  pours: z
    .array(z.strictObject({ water_g: number(0.5, 2_000), after_s: gap.default(40) }))
    .min(1)
    .max(40),
  flow_g_s: number(0.2, 60),
  /** From one brewer to the next, and the kettle up and down. */
  move_s: number(0, 60).default(3),
  /** From the end of the last pour until the brewer has drained. */
  drain_s: number(0, 1_800).default(0),
  decant: z
    .strictObject({
      takes_s: above0(300),
      /** How long a drained brewer may wait for it. */
      within_s: number(0, 1_800).default(30),
    })
    .nullable()
    .default(null),
  /** People who pour. */
  hands: z.int().min(1).max(4).default(1),
  kettles: z.array(kettle).min(1).max(6),
  /** Every brewer begins before the first one gets its last pour; otherwise they may follow one another. */
  alongside: z.boolean().default(true),
  /** Most seconds between the first pour of the first and of the last brewer; null: no bound of its own. */
  apart_s: number(0, 3_600).nullable().default(null),
  limit_s: number(0, 7_200).default(600),
  /** The first pour cannot be earlier. */
  from_s: number(0, 7_200).default(0),
  air_C: number(-10, 50).default(22),
  boils_C: number(80, 102).default(100),
});
export type BrewerOrder = z.infer<typeof brewerOrder>;
export type BrewerOrderInput = z.input<typeof brewerOrder>;

/** Time that a pour takes hands and kettle [s]: pouring and moving. */
export const handsOn = (order: BrewerOrder, water_g: number): number =>
  water_g / order.flow_g_s + order.move_s;

/** Least and most wait before a pour, from the start of the one before [s]. */
export function gapBefore(order: BrewerOrder, pour: number): { min: number; max: number | null } {
  const { after_s } = order.pours[pour]!;
  return typeof after_s === 'number' ? { min: after_s, max: after_s } : after_s;
}
