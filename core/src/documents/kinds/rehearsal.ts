import { z } from 'zod';
import { above0, common, id, localId, moment, number, refuse, refuseDuplicateIds } from '../fields.ts';

/** What hands or voice do on stage. */
export const CUES = ['pour', 'stir', 'swirl', 'open', 'lift', 'decant', 'serve', 'say', 'call'] as const;

/** One thing to do, as it stood when the run began: a plan may change later, a run that was made does not. */
export const cue = z.strictObject({
  id: localId,
  what: z.enum(CUES),
  /** From 1; null for what belongs to no brewer, such as the talk. */
  brewer: z.int().min(1).max(24).nullable().default(null),
  at_s: number(0, 14_400),
  takes_s: number(0, 3_600).default(0),
  /** To be poured, and what the scale of this brewer then shows. */
  water_g: above0(2_000).nullable().default(null),
  scale_g: above0(40_000).nullable().default(null),
  title: z.string().max(200).default(''),
  /** To be said. */
  text: z.string().max(20_000).default(''),
});
export type Cue = z.infer<typeof cue>;

/** Every event has its place in the order, its moment in the run, and what both clocks of the device showed. */
const stamp = {
  n: z.int().min(0).max(1_000_000),
  /** On the clock of the run; negative while it counts in. */
  at_s: number(-600, 172_800),
  /** The clock of the day, milliseconds since 1970. */
  wall_ms: number(0, 1e14),
  /** Since the page was opened, and the moment it was opened at, by a clock that nobody can set. */
  mono_ms: number(0, 1e12),
  opened_ms: number(0, 1e14),
};

const placed = z.array(z.strictObject({ cue_id: localId, at_s: number(0, 172_800) })).max(1_000);

/** What happened in a run. Events are only ever added: what was wrong is undone by one more. */
export const runEvent = z.discriminatedUnion('what', [
  z.strictObject({ what: z.literal('start'), ...stamp, count_in_s: number(0, 60).default(0) }),
  /** Something has begun. */
  z.strictObject({ what: z.literal('lap'), ...stamp, cue_id: localId }),
  z.strictObject({ what: z.literal('skip'), ...stamp, cue_id: localId }),
  z.strictObject({ what: z.literal('undo'), ...stamp, undoes: z.int().min(0).max(1_000_000) }),
  /** From here on laps are tapped, or what is planned counts as begun at its moment. */
  z.strictObject({ what: z.literal('mode'), ...stamp, mode: z.enum(['tap', 'cues']) }),
  /** A way to go on when late: what is left out, and when the rest is to begin. */
  z.strictObject({
    what: z.literal('choice'),
    ...stamp,
    left_out: z.array(localId).max(1_000),
    starts: placed,
    points: number(-10_000, 10_000),
    ends_s: number(0, 172_800),
  }),
  /** The clock of the day jumped against the other: the device slept, which counts, or was set, which does not. */
  z.strictObject({
    what: z.literal('clock'),
    ...stamp,
    shift_s: number(-172_800, 172_800),
    taken_as: z.enum(['slept', 'set']),
  }),
  /** The page was opened again in mid-run, after so long. */
  z.strictObject({ what: z.literal('opened'), ...stamp, away_s: number(0, 172_800) }),
  /** Something to look at afterwards. */
  z.strictObject({ what: z.literal('mark'), ...stamp }),
  z.strictObject({ what: z.literal('end'), ...stamp, how: z.enum(['finished', 'stopped']) }),
]);
export type RunEvent = z.infer<typeof runEvent>;

type Context = Pick<z.core.ParsePayload, 'issues'>;

/** A run through brew and talk against the clock, with everything that was recorded. */
export const rehearsal = z
  .strictObject({
    kind: z.literal('rehearsal'),
    version: z.literal(1),
    ...common,
    /** What was rehearsed; null when it was not made from a document. */
    talk_id: id.nullable().default(null),
    plan_id: id.nullable().default(null),
    began_at: moment,
    limit_s: number(0, 14_400),
    brewers: z.int().min(1).max(24).default(1),
    cues: z.array(cue).max(1_000).default([]),
    events: z.array(runEvent).max(20_000).default([]),
    /** A recording that is kept in the browser it was made in. */
    sound: z
      .strictObject({
        media_type: z.string().max(120),
        size_kB: number(0, 4_000_000),
        from_s: number(-600, 172_800),
      })
      .nullable()
      .default(null),
    /** What was served, as measured. */
    cups: z
      .array(
        z.strictObject({
          brewer: z.int().min(1).max(24),
          beverage_g: number(0, 5_000).nullable().default(null),
          strength_pct: number(0, 30).nullable().default(null),
          served_C: number(0, 100).nullable().default(null),
        }),
      )
      .max(24)
      .default([]),
  })
  .check((ctx) => {
    const { cues, events } = ctx.value;
    refuseDuplicateIds(ctx, 'cues', cues);
    refuseDisorder(ctx, events);
    refuseUnknownCues(ctx, new Set(cues.map((entry) => entry.id)), events);
  });
export type Rehearsal = z.infer<typeof rehearsal>;

function refuseDisorder(ctx: Context, events: readonly RunEvent[]): void {
  events.forEach(({ n }, i) => {
    const before = i === 0 ? -1 : events[i - 1]!.n;
    if (n <= before) refuse(ctx, ['events', i, 'n'], 'events_not_rising', n, { value: n, limit: before });
  });
}

function refuseUnknownCues(ctx: Context, known: ReadonlySet<string>, events: readonly RunEvent[]): void {
  events.forEach((event, i) => {
    const named =
      event.what === 'lap' || event.what === 'skip'
        ? [event.cue_id]
        : event.what === 'choice'
          ? [...event.left_out, ...event.starts.map(({ cue_id }) => cue_id)]
          : [];
    const lost = named.find((cue_id) => !known.has(cue_id));
    if (lost !== undefined) refuse(ctx, ['events', i], 'unknown_cue', lost, { value: lost });
  });
}
