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
    .array(
      z.strictObject({
        water_g: number(0.5, 2_000),
        after_s: gap.default(40),
        /** Own flow of this pour; null: that of all. */
        flow_g_s: number(0.2, 60).nullable().default(null),
        /** What the kettle should hold then; null: what its base holds. */
        asked_C: number(0, 100.5).nullable().default(null),
        /** Number of the kettle that it must come from, from 1; null: whichever is fullest and free. */
        kettle: z.int().min(1).max(6).nullable().default(null),
      }),
    )
    .min(1)
    .max(40),
  flow_g_s: number(0.2, 60),
  /** Stirs and swirls, each so long after the start of a pour. */
  actions: z
    .array(
      z.strictObject({
        what: z.enum(['stir', 'swirl']),
        /** Number of the pour, from 1. */
        pour: z.int().min(1).max(40),
        after_s: number(0, 3_600),
        takes_s: above0(300),
        /** How much later it may begin, once the hands could be back. */
        give_s: number(0, 600).default(5),
      }),
    )
    .max(40)
    .default([]),
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
  /** Filling the cup and carrying it to its guest. */
  serve: z
    .strictObject({ takes_s: above0(600), within_s: number(0, 1_800).default(60) })
    .nullable()
    .default(null),
  /** A scale stays under its brewer from the first pour until it has drained; null: there is one for each. */
  scales: z.int().min(1).max(24).nullable().default(null),
  /** People who pour. */
  hands: z.int().min(1).max(4).default(1),
  kettles: z.array(kettle).min(1).max(6),
  /** Every brewer begins before any of them gets its last pour; otherwise they may follow one another. */
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

type Pour = BrewerOrder['pours'][number];

/** Time that the water of a pour takes [s]. */
export const pouringTime = (order: BrewerOrder, { water_g, flow_g_s }: Pour): number =>
  water_g / (flow_g_s ?? order.flow_g_s);

/** Time that a pour takes hands and kettle [s]: pouring and moving. */
export const handsOn = (order: BrewerOrder, pour: Pour): number => pouringTime(order, pour) + order.move_s;

/** Least and most wait before a pour, from the start of the one before [s]. */
export function gapBefore(order: BrewerOrder, pour: number): { min: number; max: number | null } {
  const { after_s } = order.pours[pour]!;
  return typeof after_s === 'number' ? { min: after_s, max: after_s } : after_s;
}
