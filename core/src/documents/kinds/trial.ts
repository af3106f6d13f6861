import { z } from 'zod';
import { above0, common, date, hash, id, localId, moment, number, refuse } from '../fields.ts';
import { MAX_POURS, MAX_SECONDS, plan } from './plan.ts';

const measured = number(0, 100_000).nullable().default(null);
const temperature = number(-5, 101);

/** Places where a temperature is taken. */
export const TEMPERATURE_PLACES = [
  'kettle',
  'head',
  'bed_top',
  'bed_middle',
  'bed_bottom',
  'drip',
  'server',
  'cup',
] as const;
export type TemperaturePlace = (typeof TEMPERATURE_PLACES)[number];

/** What a recorded course is of: water poured so far, beverage so far, or the temperature of a place. */
export const COURSE_KINDS = [
  'poured_g',
  'beverage_g',
  'kettle_C',
  'head_C',
  'bed_top_C',
  'bed_middle_C',
  'bed_bottom_C',
  'drip_C',
  'server_C',
  'cup_C',
] as const;
export type CourseKind = (typeof COURSE_KINDS)[number];
/** The most points of a course that a document keeps; the whole recording is an attachment. */
export const MAX_COURSE_POINTS = 600;

/** A file kept whole beside the document. */
const file = {
  attachment: hash,
  media_type: z.string().max(120),
  name: z.string().max(200),
};

/** A pour as the hands did it: from a recording, or noted. */
export const pouredAs = z.strictObject({
  /** Which pour of the plan it was; null for one that was not planned. */
  pour_id: localId.nullable().default(null),
  start_s: number(0, MAX_SECONDS),
  end_s: number(0, MAX_SECONDS),
  water_g: above0(2_000),
  /** Of the water in the kettle, when it was read. */
  kettle_C: temperature.nullable().default(null),
});
export type PouredAs = z.infer<typeof pouredAs>;

/** A recorded course, thinned to what a drawing and a fit need, on the clock of the brew. */
export const course = z.strictObject({
  of: z.enum(COURSE_KINDS),
  time_s: z.array(number(-600, MAX_SECONDS)).max(MAX_COURSE_POINTS),
  value: z.array(number(-1_000, 100_000)).max(MAX_COURSE_POINTS),
});
export type Course = z.infer<typeof course>;

/** One taste of the cup. */
export const tasted = z.strictObject({
  when: z.enum(['hot', 'warm', 'cold']),
  /** Of the cup, when it was read. */
  temperature_C: temperature.nullable().default(null),
  /** How much it was liked, 0 not at all – 10 could not be better; null when only words were noted. */
  liking: number(0, 10).nullable().default(null),
  words: z.array(z.string().trim().min(1).max(60)).max(40).default([]),
  /** Who tasted. */
  by: z.string().max(120).default(''),
  /** Tasted without knowing which brew it was. */
  blind: z.boolean().default(false),
});
export type Tasted = z.infer<typeof tasted>;

type Context = Parameters<typeof refuse>[0];

function refuseBadPours(ctx: Context, pours: readonly PouredAs[]): void {
  let end = Number.NEGATIVE_INFINITY;
  pours.forEach((pour, i) => {
    if (pour.end_s <= pour.start_s)
      refuse(ctx, ['poured', i, 'end_s'], 'ends_before_start', pour.end_s, {
        value: `${pour.end_s} s`,
        limit: `${pour.start_s} s`,
      });
    else if (pour.start_s < end)
      refuse(ctx, ['poured', i, 'start_s'], 'pours_overlap', pour.start_s, {
        value: `${pour.start_s} s`,
        limit: end,
      });
    end = Math.max(end, pour.end_s);
  });
}

function refuseBadCourses(ctx: Context, courses: readonly Course[]): void {
  courses.forEach(({ time_s, value }, i) => {
    if (time_s.length !== value.length)
      refuse(ctx, ['courses', i, 'value'], 'lengths_differ', value.length, {
        value: value.length,
        limit: time_s.length,
      });
    const back = time_s.findIndex((t, k) => k > 0 && t < time_s[k - 1]!);
    if (back > 0)
      refuse(ctx, ['courses', i, 'time_s', back], 'time_goes_back', time_s[back], {
        value: `${time_s[back]} s`,
        limit: `${time_s[back - 1]} s`,
      });
  });
}

/**
 * A brew that was made: what was measured. One document is one brew, also when three are made at once for three guests: these
 * share an `event`. So every brew has its own readings, traces and tastes in one shape, two people can log two of the three at the
 * same time without a clash, and whatever learns from trials needs no second case.
 */
export const trial = z
  .strictObject({
    kind: z.literal('trial'),
    version: z.literal(1),
    ...common,
    plan_id: id,
    /** The plan as it stood then, so that editing it later changes no history; null follows the plan document. */
    plan_then: plan.nullable().default(null),
    brewed_at: moment,
    /** Brews that were made at once for one table carry the same `event.id`. */
    event: z
      .strictObject({ id, cup: z.string().trim().min(1).max(20) })
      .nullable()
      .default(null),
    /** Null takes what the plan says. */
    coffee_id: id.nullable().default(null),
    venue_id: id.nullable().default(null),
    kettle_id: localId.nullable().default(null),
    /** Which of several drippers of a kind, as they are marked. */
    dripper_mark: z.string().max(60).default(''),
    /** Whose hands poured. */
    poured_by: z.string().max(120).default(''),
    /** Roast date and days in the freezer of what was brewed; null takes those of the coffee. */
    roasted_on: date.nullable().default(null),
    frozen_d: number(0, 4_000).nullable().default(null),
    /** Air in the room; null takes that of the venue. */
    air_C: number(-20, 60).nullable().default(null),
    dose_g: above0(200),
    /** All water poured through the coffee. */
    water_g: measured,
    /** What is in the server in the end, water added afterwards included. */
    beverage_g: measured,
    /** Water added straight to the server; null takes what the plan says. */
    bypass_g: measured,
    /** Wet grounds with their paper, weighed afterwards. */
    spent_g: measured,
    /** The liquid surface reached the bed for good. */
    drawdown_s: measured,
    /** The drip had ended, or the dripper was lifted off. */
    end_s: measured,
    lifted: z.boolean().default(false),
    /** Refractometer readings of one sample, % by mass. */
    strength_readings: z
      .array(
        z.strictObject({ strength_pct: number(0, 30), sample_C: number(0, 100).nullable().default(null) }),
      )
      .max(20)
      .default([]),
    /** The same from an instrument that shows degrees Brix. */
    brix_readings: z
      .array(z.strictObject({ brix: number(0, 40), sample_C: number(0, 100).nullable().default(null) }))
      .max(20)
      .default([]),
    /** What the sample lost to the air before it was read, % of its mass; 0 for one that was kept closed. */
    sample_lost_pct: number(0, 20).default(0),
    /** Which instrument showed it: its document. Null takes plain ones. */
    refractometer_id: id.nullable().default(null),
    balance_id: id.nullable().default(null),
    thermometer_id: id.nullable().default(null),
    temperatures: z
      .array(
        z.strictObject({
          time_s: number(0, 7_200),
          where: z.enum(TEMPERATURE_PLACES),
          temperature_C: temperature,
        }),
      )
      .max(2_000)
      .default([]),
    /** The pours as they were done; empty when nothing says otherwise than the plan. */
    poured: z.array(pouredAs).max(MAX_POURS).default([]),
    courses: z.array(course).max(12).default([]),
    tasted: z.array(tasted).max(60).default([]),
    /** Recorded files, kept whole as attachments. */
    traces: z
      .array(
        z.strictObject({
          ...file,
          /** Moment of the recording at which the clock of the brew starts. */
          zero_s: number(-86_400, 86_400).default(0),
          /** How its columns were read, so that it can be read again in the same way; empty when it was not. */
          read_as: z.string().max(4_000).default(''),
        }),
      )
      .max(40)
      .default([]),
    photographs: z
      .array(z.strictObject({ ...file, caption: z.string().max(400).default('') }))
      .max(40)
      .default([]),
    /** False for a brew that went wrong: kept, but nothing is learned from it. */
    counted: z.boolean().default(true),
  })
  .check((ctx) => {
    refuseBadPours(ctx, ctx.value.poured);
    refuseBadCourses(ctx, ctx.value.courses);
  });
export type Trial = z.infer<typeof trial>;
