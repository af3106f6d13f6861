import { z } from 'zod';
import { above0, common, id, localId, number, refuse, refuseDuplicateIds } from '../fields.ts';
import { contest, RULED } from './contest.ts';

const seconds = number(0, 7_200);
const brewerNumber = z.int().min(1).max(24);

/** When a segment begins: at a moment of the clock, or with something the hands do. */
const pin = z.discriminatedUnion('by', [
  z.strictObject({ by: z.literal('time'), at_s: seconds }),
  z.strictObject({
    by: z.literal('action'),
    brewer: brewerNumber,
    what: z.enum(['pour', 'decant', 'serve']),
    /** Number of the pour, from 1; not looked at for what is no pour. */
    pour: z.int().min(1).max(40).default(1),
    /** So long after the action begins; before it when negative. */
    after_s: number(-600, 600).default(0),
  }),
]);

/** A piece of talk that is said in one breath of thought. Numbers in braces follow their source, for example `{dose_g}`. */
const segment = z.strictObject({
  id: localId,
  title: z.string().trim().max(120).default(''),
  text: z.string().max(20_000).default(''),
  /** As timed; null: by its text and the rate. */
  takes_s: number(0, 3_600).nullable().default(null),
  /** Silence after it. */
  pause_s: number(0, 600).default(0),
  /** Null: floats, in order. */
  pin: pin.nullable().default(null),
  /** How much earlier or later than its pin it may begin. */
  give_s: number(0, 600).default(0),
  may_be_cut: z.boolean().default(false),
  /** What leaving it out costs, on the scale of the total. */
  points: number(0, 1_000).default(0),
});
export type TalkPiece = z.infer<typeof segment>;

/** How the plan is poured several times over. Null where the plan or the engine knows it. */
const brewing = z.strictObject({
  brewers: brewerNumber.default(3),
  /** Own flow; null: as each pour of the plan. */
  flow_g_s: number(0.2, 60).nullable().default(null),
  /** From one brewer to the next, and the kettle up and down. */
  move_s: number(0, 60).default(3),
  /** How much later than in the plan a pour, a stir or a swirl may begin. */
  give_s: number(0, 600).default(0),
  /** From the end of the last pour until it has drained; null: as predicted. */
  drain_s: number(0, 1_800).nullable().default(null),
  decant: z
    .strictObject({ takes_s: above0(300), within_s: number(0, 1_800).default(30) })
    .nullable()
    .default(null),
  /** Filling the cup and carrying it. */
  serve: z
    .strictObject({ takes_s: above0(600), within_s: number(0, 1_800).default(60) })
    .nullable()
    .default(null),
  people: z.int().min(1).max(4).default(1),
  /** Null: one under every brewer. */
  scales: brewerNumber.nullable().default(null),
  /** Every brewer begins before the first one gets its last pour. */
  alongside: z.boolean().default(true),
  /** Most seconds between the first pours of the first and of the last brewer; null: no bound. */
  apart_s: number(0, 3_600).nullable().default(null),
  /** The first pour is not earlier. */
  first_pour_s: seconds.default(0),
});

const kettle = z.strictObject({
  id: localId,
  /** Kettle of the setup that it is; null: described here. */
  kettle_id: localId.nullable().default(null),
  name: z.string().trim().min(1).max(60).default('Kettle'),
  fill_g: above0(10_000),
  /** What cannot be poured from it any more (common practice: the spout draws air before it is empty). */
  keep_g: number(0, 5_000).default(50),
  power_W: number(0, 5_000).default(0),
  /** The voltage that its power is printed for. */
  rated_V: number(90, 260).default(230),
  /** When the run starts; null: as hot as the first pour asks. */
  start_C: number(0, 100.5).nullable().default(null),
  /** What its base holds; null: as it starts. */
  set_C: number(0, 100.5).nullable().default(null),
  between: z.enum(['on_base', 'off_base']).default('on_base'),
  body_equivalent_g: number(0, 1_000).default(100),
  loss_W_K: number(0.05, 20).default(1.2),
  /** Water that goes into it for set-up. */
  from_C: number(0, 100.5).default(20),
  circuit: z.string().trim().min(1).max(60).default('wall'),
});
export type RunKettle = z.infer<typeof kettle>;

/** What stands on the table, seen from above; x from the left, y from the brewer's edge. */
const thing = z.strictObject({
  id: localId,
  what: z.enum(['brewer', 'kettle', 'jar', 'server', 'cup', 'scale', 'tray', 'cards', 'cloth', 'other']),
  name: z.string().trim().max(60).default(''),
  /** Which brewer it belongs to; null: all of them. */
  brewer: brewerNumber.nullable().default(null),
  x_cm: number(0, 400),
  y_cm: number(0, 400),
  width_cm: above0(200).default(12),
  depth_cm: above0(200).default(12),
  /** When it is first reached for, where the schedule does not know; null: as the schedule says. */
  reach_s: seconds.nullable().default(null),
});
export type TableThing = z.infer<typeof thing>;

/** One performance: brew, talk and service on one clock. */
export const talk = z
  .strictObject({
    kind: z.literal('talk'),
    version: z.literal(1),
    ...common,
    /** What is brewed in every brewer. */
    plan_id: id,
    /** Null: no rules yet. */
    contest_id: id.nullable().default(null),
    /** Null: the venue of the plan. */
    venue_id: id.nullable().default(null),
    /** Time there is; null: as the contest says, or ten minutes. */
    limit_s: seconds.nullable().default(null),
    brewing: brewing.prefault({}),
    /** Empty: the kettles of the setup, full. */
    kettles: z.array(kettle).max(6).default([]),
    circuits: z
      .array(
        z.strictObject({
          id: localId,
          name: z.string().trim().min(1).max(60),
          limit_A: above0(200),
          /** Everything else that draws from it. */
          other_W: number(0, 20_000).default(0),
        }),
      )
      .max(8)
      .default([]),
    /** Own speaking rate; null: from rehearsals, or a draft. */
    rate: z
      .strictObject({ words_per_min: above0(600), characters_per_min: above0(1_000) })
      .nullable()
      .default(null),
    segments: z.array(segment).max(200).default([]),
    /** Figures that the talk may speak of and no document holds: from a panel, or measured by hand. */
    values: z
      .array(
        z.strictObject({
          id: localId,
          /** As it is called in the text: letters, digits and underscores. */
          name: localId,
          source: z.enum(['measured', 'panel']),
          value: number(-1_000_000, 1_000_000),
          unit: z.string().trim().max(20).default(''),
          /** How far it may be off; null when not known. */
          spread: number(0, 1_000_000).nullable().default(null),
          /** Where exactly it comes from, for example "panel of 3 March". */
          from: z.string().trim().max(200).default(''),
          /** The brew that it is true of; null when it hangs on no brew. */
          of_brew: z.string().max(60).nullable().default(null),
        }),
      )
      .max(100)
      .default([]),
    /** When nobody should speak. */
    silence: z
      .strictObject({
        /** Pours that want quiet: none, the first of each brewer, or all. */
        pours: z.enum(['none', 'first', 'all']).default('none'),
        zones: z
          .array(
            z.strictObject({
              id: localId,
              label: z.string().trim().max(120).default(''),
              from_s: seconds,
              to_s: seconds,
            }),
          )
          .max(60)
          .default([]),
      })
      .prefault({}),
    /** What the plan does not say about itself and rules ask for. */
    facts: z
      .strictObject({
        uses: z.array(z.enum(RULED)).max(60).default([]),
        individually_brewed: z.boolean().nullable().default(null),
        setup_s: number(0, 14_400).nullable().default(null),
        cleanup_s: number(0, 14_400).nullable().default(null),
        changes_after_setup: contest.shape.frozen_after_setup,
      })
      .prefault({}),
    /** What might be done otherwise, to be priced in points. */
    choices: z
      .array(
        z.strictObject({
          id: localId,
          name: z.string().trim().min(1).max(120),
          marks: z
            .array(
              z.strictObject({
                category_id: localId,
                by: number(-1_000, 1_000),
                sd: number(0, 1_000).default(0),
                judges: z.int().min(1).max(12).nullable().default(null),
              }),
            )
            .max(60)
            .default([]),
          /** Seconds that it makes the run longer; shorter when negative. */
          longer_s: number(-7_200, 7_200).default(0),
        }),
      )
      .max(60)
      .default([]),
    /** Runs timed by hand: the whole, and the segments that were timed. */
    runs: z
      .array(
        z.strictObject({
          id: localId,
          ended_s: above0(14_400),
          segments: z
            .array(z.strictObject({ segment_id: localId, took_s: above0(14_400) }))
            .max(200)
            .default([]),
        }),
      )
      .max(500)
      .default([]),
    table: z
      .strictObject({
        width_cm: above0(600).default(150),
        depth_cm: above0(400).default(60),
        things: z.array(thing).max(80).default([]),
      })
      .prefault({}),
    jars: z
      .strictObject({
        /** What grinding keeps back of each dose; null: as the grinder of the plan. */
        retention_g: number(0, 20).nullable().default(null),
        tolerance_g: above0(5).default(0.1),
        list: z
          .array(
            z.strictObject({
              id: localId,
              name: z.string().trim().min(1).max(60),
              /** Null: a spare. */
              brewer: brewerNumber.nullable().default(null),
              /** Net, as weighed; null: not yet. */
              weighed_g: number(0, 500).nullable().default(null),
            }),
          )
          .max(60)
          .default([]),
      })
      .prefault({}),
    /** What stands on the card for the judges; numbers in braces follow their source. */
    judges_card: z.string().max(4_000).default(''),
  })
  .check((ctx) => {
    const { kettles, segments, silence, table, jars, choices, runs, circuits, values } = ctx.value;
    refuseDuplicateIds(ctx, 'kettles', kettles);
    refuseDuplicateIds(ctx, 'circuits', circuits);
    refuseDuplicateIds(ctx, 'segments', segments);
    refuseDuplicateIds(ctx, 'values', values);
    refuseDuplicateIds(ctx, 'choices', choices);
    refuseDuplicateIds(ctx, 'runs', runs);
    for (const [path, list] of [
      [['silence', 'zones'], silence.zones],
      [['table', 'things'], table.things],
      [['jars', 'list'], jars.list],
    ] as const)
      refuseTwice(ctx, path, list);
    values.forEach(({ name }, i) => {
      if (!/^[A-Za-z]\w*$/.test(name)) refuse(ctx, ['values', i, 'name'], 'not_a_value_name', name);
    });
    silence.zones.forEach(({ from_s, to_s }, i) => {
      if (to_s < from_s)
        refuse(ctx, ['silence', 'zones', i, 'to_s'], 'ends_before_start', to_s, {
          value: `${to_s} s`,
          limit: `${from_s} s`,
        });
    });
  });
export type Talk = z.infer<typeof talk>;

function refuseTwice(
  ctx: Pick<z.core.ParsePayload, 'issues'>,
  path: readonly string[],
  entries: readonly { id: string }[],
): void {
  const seen = new Set<string>();
  entries.forEach((entry, i) => {
    if (seen.has(entry.id)) refuse(ctx, [...path, i, 'id'], 'duplicate_id', entry.id);
    seen.add(entry.id);
  });
}
