import { z } from 'zod';
import {
  above0,
  common,
  id,
  localId,
  material,
  number,
  refuse,
  refuseDuplicateIds,
  refuseSharesNotOne,
} from '../fields.ts';

/** The most pours a plan may hold. */
export const MAX_POURS = 40;
/** The longest moment a plan can speak of: two hours, for a slow immersion. */
export const MAX_SECONDS = 7_200;

/** What sums of rounded seconds may differ by; no hand is that exact. */
const CRUMB = 1e-9;

const seconds = number(0, MAX_SECONDS);

type Context = Pick<z.core.ParsePayload, 'issues'>;

export const pour = z.strictObject({
  id: localId,
  start_s: seconds,
  water_g: number(0.5, 2_000),
  /** How fast: a flow or a duration, as the brewer thinks of it. */
  rate: z.discriminatedUnion('by', [
    z.strictObject({ by: z.literal('flow'), flow_g_s: number(0.2, 60) }),
    z.strictObject({ by: z.literal('duration'), duration_s: number(0.5, 600) }),
  ]),
  water_id: id,
  kettle_id: localId.nullable().default(null),
  kettle_temperature_C: number(0, 100.5),
  /** Spout above the slurry. */
  height_cm: number(0, 60).default(10),
});
export type Pour = z.infer<typeof pour>;

export const action = z.strictObject({
  id: localId,
  what: z.enum(['stir', 'swirl']),
  start_s: seconds,
  duration_s: number(0.5, 60).default(3),
});
export type Action = z.infer<typeof action>;

/** How one kettle is handled, so that its water is as hot as it can be, not as it is asked to be. */
export const kettleUse = z.strictObject({
  kettle_id: localId,
  /** Water in it when the clock starts; null when it is full. */
  fill_g: above0(10_000).nullable().default(null),
  /** Temperature when the clock starts; null when it is that of the first pour from it. */
  start_C: number(0, 100.5).nullable().default(null),
  /**
   * Between pours: back on its base, which heats towards what the next pour asks and holds it there, or off its base, cooling.
   */
  between: z.enum(['on_base', 'off_base']).default('on_base'),
});
export type KettleUse = z.infer<typeof kettleUse>;

/** The first of the drip meets a cold body. */
export const chill = z.strictObject({
  /** It runs over the body into the server, or is caught in a cold vessel and joins the rest when the brew is done. */
  how: z.enum(['runs_over', 'caught']).default('runs_over'),
  /** How much of the drip: a mass in the server or a moment, whichever the hands go by. */
  first: z.discriminatedUnion('by', [
    z.strictObject({ by: z.literal('mass'), drip_g: above0(2_000) }),
    z.strictObject({ by: z.literal('time'), until_s: above0(MAX_SECONDS) }),
  ]),
  material,
  mass_g: number(5, 5_000),
  /** Of the body when the drip reaches it. */
  temperature_C: number(-30, 40),
  /** Heat that passes from the liquid to the body, per kelvin between them; null takes the default of the engine. */
  contact_W_K: above0(200).nullable().default(null),
});
export type Chill = z.infer<typeof chill>;

/** From the end of the brew to the last sip. */
export const serving = z.strictObject({
  /** How long the server stands before the first cup is poured. */
  stands_s: number(0, MAX_SECONDS).default(15),
  /** The server is covered meanwhile. */
  lid: z.boolean().default(false),
  cups: z.int().min(1).max(12).default(1),
  /** Beverage in each cup; null shares all there is. */
  cup_g: above0(2_000).nullable().default(null),
  /** Temperature of the empty cups; null when they stand at air temperature. */
  cups_C: number(0, 100).nullable().default(null),
  /** From a cup being filled to its standing before the guest. */
  carry_s: number(0, 3_600).default(20),
  /** A cup is tasted hot above this … (common practice: 60 °C) */
  hot_above_C: number(25, 95).default(60),
  /** … and cold below this (common practice: 40 °C); warm in between. */
  cold_below_C: number(15, 90).default(40),
});
export type Serving = z.infer<typeof serving>;

function refuseDuplicateKettles(ctx: Context, uses: readonly KettleUse[]): void {
  const seen = new Set<string>();
  uses.forEach((use, i) => {
    if (seen.has(use.kettle_id)) refuse(ctx, ['kettles', i, 'kettle_id'], 'duplicate_id', use.kettle_id);
    seen.add(use.kettle_id);
  });
}

/** Hot must begin where warm can still lie below it. */
function refuseNoWarm(ctx: Context, asked: Serving | null): void {
  if (!asked || !(asked.cold_below_C >= asked.hot_above_C)) return;
  refuse(ctx, ['serving', 'cold_below_C'], 'cold_above_hot', asked.cold_below_C, {
    value: `${asked.cold_below_C} °C`,
    limit: `${asked.hot_above_C} °C`,
  });
}

/** A brew as it is meant to be done: what the hands do, and with what. */
export const plan = z
  .strictObject({
    kind: z.literal('plan'),
    version: z.literal(1),
    ...common,
    coffee_id: id,
    setup_id: id,
    venue_id: id,
    dose_g: number(1, 200),
    /** Days from roasting to this brew, for the gas left in the coffee; null takes a rested coffee. */
    coffee_age_d: number(0, 400).nullable().default(null),
    /** Temperature of the grounds; null when they lie at air temperature. */
    grounds_C: number(-25, 60).nullable().default(null),
    /** Grind by mass: one or more settings whose shares make 1. */
    grind: z
      .array(z.strictObject({ grinder_id: id, setting_id: localId, share: number(0, 1) }))
      .min(1)
      .max(6),
    /** Rinse and preheat of dripper and paper; the water is thrown away. */
    rinse: z
      .strictObject({ water_g: number(0, 2_000), temperature_C: number(0, 100.5) })
      .nullable()
      .default(null),
    pours: z.array(pour).min(1).max(MAX_POURS),
    actions: z.array(action).max(MAX_POURS).default([]),
    /** The outlet stays closed until then (immersion); null for a dripper that is always open. */
    outlet_opens_s: seconds.nullable().default(null),
    /** The dripper is taken away; null waits until it has drained. */
    lift_s: above0(MAX_SECONDS).nullable().default(null),
    /** Water added straight to the server. */
    bypass: z
      .strictObject({ water_g: above0(2_000), temperature_C: number(0, 100.5), water_id: id })
      .nullable()
      .default(null),
    /** A kettle that is not listed gives every pour the temperature it asks for. */
    kettles: z.array(kettleUse).max(6).default([]),
    /** Null when nothing is chilled. */
    chill: chill.nullable().default(null),
    /** Null when the prediction ends with the brew. */
    serving: serving.nullable().default(null),
  })
  .check((ctx) => {
    const { pours, lift_s, grind } = ctx.value;
    refuseDuplicateIds(ctx, 'pours', pours);
    refuseDuplicateIds(ctx, 'actions', ctx.value.actions);
    refuseDuplicateKettles(ctx, ctx.value.kettles);
    refuseNoWarm(ctx, ctx.value.serving);
    refuseSharesNotOne(ctx, 'grind', grind);
    // What is wrong with a pour by itself has been said; only sound ones are compared with each other.
    const order = pours
      .map((_, i) => i)
      .filter((i) => pours[i]!.start_s >= 0 && Number.isFinite(pourEnd(pours[i]!)))
      .sort((a, b) => pours[a]!.start_s - pours[b]!.start_s);
    const first = order[0];
    if (first === undefined) return;
    let end = Number.NEGATIVE_INFINITY;
    for (const i of order) {
      const { start_s } = pours[i]!;
      if (start_s < end - CRUMB)
        refuse(ctx, ['pours', i, 'start_s'], 'pours_overlap', start_s, {
          value: `${start_s} s`,
          limit: Math.round(end * 10) / 10,
        });
      end = Math.max(end, pourEnd(pours[i]!));
    }
    if (lift_s === null || lift_s <= 0) return;
    const firstStart = pours[first]!.start_s;
    if (lift_s <= firstStart) {
      refuse(ctx, ['lift_s'], 'lift_before_first_pour', lift_s, { value: `${lift_s} s`, limit: firstStart });
      return;
    }
    for (const i of order) {
      if (pourEnd(pours[i]!) <= lift_s + CRUMB) continue;
      const { start_s } = pours[i]!;
      refuse(ctx, ['pours', i, 'start_s'], 'pour_after_lift', start_s, {
        value: `${start_s} s`,
        limit: lift_s,
      });
    }
  });
export type Plan = z.infer<typeof plan>;

/** Duration of a pour [s]. */
export const pourDuration = (p: Pick<Pour, 'rate' | 'water_g'>): number =>
  p.rate.by === 'duration' ? p.rate.duration_s : p.water_g / p.rate.flow_g_s;

/** Moment a pour ends [s]. */
export const pourEnd = (p: Pick<Pour, 'rate' | 'water_g' | 'start_s'>): number => p.start_s + pourDuration(p);
