import { z } from 'zod';
import { contest, RULED } from '../documents/kinds/contest.ts';
import { plan } from '../documents/kinds/plan.ts';
import { setup } from '../documents/kinds/setup.ts';
import { type Checked, checkSchema } from '../documents/problem.ts';
import { heatingOrder, planHeating } from './brewers/heating.ts';
import { brewerOrder } from './brewers/order.ts';
import { scheduleBrewers } from './brewers/schedule.ts';
import { checkRules, factsOfPlan } from './contest/check-rules.ts';
import { expectedPenalty } from './contest/overtime.ts';
import { priceChoices } from './contest/price.ts';
import { EXAMPLE_CONTEST } from './example-contest.ts';
import { gramBudget, gramOrder } from './gram-budget.ts';
import { answerLate, lateOrder } from './late/late-question.ts';
import { chanceOver, drift, forecastFrom, momentsOf } from './overrun/history.ts';
import type { StageRemark } from './remark.ts';
import { placeTalk } from './talk/place-talk.ts';
import { talkOrder } from './talk/talk-order.ts';

/** What a question about the run gives: every figure, and what it means. */
export interface StageAnswer {
  figures: Readonly<Record<string, unknown>>;
  remarks: readonly StageRemark[];
}

/** A question that takes a table typed by hand. */
export interface StageQuestion {
  /** One line: what it answers. */
  about: string;
  /** A small input that works. */
  example: unknown;
  answer(input: unknown): Checked<StageAnswer>;
}

function question<T>(
  about: string,
  schema: z.ZodType<T>,
  example: unknown,
  compute: (input: T) => Checked<StageAnswer>,
): StageQuestion {
  return {
    about,
    example,
    answer(input) {
      const checked = checkSchema(schema, input);
      return checked.ok ? compute(checked.value) : checked;
    },
  };
}

/** An answer whose remarks are said apart from its figures. */
const answered = ({ remarks, ...figures }: { remarks: readonly StageRemark[] }): Checked<StageAnswer> => ({
  ok: true,
  value: { figures, remarks },
});

const figure = (min: number, max: number) => z.number().min(min).max(max).nullable().default(null);
const facts = z.strictObject({
  uses: z.array(z.enum(RULED)).max(60).default([]),
  run_s: figure(0, 14_400),
  setup_s: figure(0, 14_400),
  cleanup_s: figure(0, 14_400),
  cups: z.int().min(1).max(24).nullable().default(null),
  individually_brewed: z.boolean().nullable().default(null),
  cup_mL: figure(0, 2_000),
  strength_pct: figure(0, 20),
  power_W: figure(0, 50_000),
  changes_after_setup: contest.shape.frozen_after_setup,
});

/** Facts typed by hand outrank what the plan says; what both leave open stays open. */
const check = z.strictObject({
  contest,
  plan: plan.nullable().default(null),
  setup: setup.nullable().default(null),
  facts: facts.prefault({}),
});

function answerCheck({
  contest: rules,
  plan: asked,
  setup: gear,
  facts: typed,
}: z.infer<typeof check>): Checked<StageAnswer> {
  const known = asked && gear ? factsOfPlan({ plan: asked, setup: gear }) : null;
  const merged = known
    ? {
        ...Object.fromEntries(
          Object.entries(known).map(([key, value]) => [key, Reflect.get(typed, key) ?? value]),
        ),
        uses: [...new Set([...known.uses, ...typed.uses])],
        changes_after_setup: typed.changes_after_setup,
      }
    : typed;
  const verdicts = checkRules(rules, { ...typed, ...merged });
  return {
    ok: true,
    value: {
      figures: { verdicts: verdicts.map(({ of, verdict }) => ({ of, verdict })) },
      remarks: verdicts.map(({ remark }) => remark),
    },
  };
}

const price = z.strictObject({
  contest,
  choices: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(120),
        marks: z
          .array(
            z.strictObject({
              category_id: z.string().min(1).max(60),
              by: z.number().min(-1_000).max(1_000),
              sd: z.number().min(0).max(1_000).default(0),
              judges: z.int().min(1).max(12).nullable().default(null),
            }),
          )
          .max(60)
          .default([]),
        run: z
          .strictObject({
            mean_s: z.number().min(0).max(14_400),
            sd_s: z.number().min(0).max(3_600).default(0),
          })
          .nullable()
          .default(null),
      }),
    )
    .min(1)
    .max(60),
});

const overrun = z.strictObject({
  runs_s: z.array(z.number().gt(0).max(14_400)).min(1).max(500),
  limit_s: z.number().min(0).max(14_400),
  segments: z
    .array(
      z.strictObject({
        id: z.string().min(1).max(60),
        times_s: z.array(z.number().gt(0).max(14_400).nullable()).min(1).max(500),
      }),
    )
    .max(200)
    .default([]),
  penalty: contest.shape.penalty,
});

function answerOverrun({
  runs_s,
  limit_s,
  segments,
  penalty,
}: z.infer<typeof overrun>): Checked<StageAnswer> {
  const { n, mean, sd } = momentsOf(runs_s);
  const chance_over = chanceOver(runs_s, limit_s);
  const expected =
    penalty && chance_over !== null
      ? expectedPenalty(penalty, (over) => chanceOver(runs_s, limit_s + over)!)
      : null;
  return {
    ok: true,
    value: {
      figures: {
        runs: n,
        mean_s: mean,
        sd_s: sd,
        chance_over,
        expected_penalty: expected,
        drift: drift(runs_s),
        forecast: forecastFrom(segments),
      },
      remarks: [],
    },
  };
}

/** Every question about a run that takes a table typed by hand, by name. */
export const PLAIN_STAGE: Readonly<Record<string, StageQuestion>> = {
  schedule: question(
    'several brewers and few hands: a schedule without clashes, or why there is none and what comes nearest',
    brewerOrder,
    {
      brewers: 3,
      pours: [60, 60, 60, 60, 60].map((water_g) => ({ water_g, after_s: 40 })),
      flow_g_s: 4,
      move_s: 3,
      kettles: [{ fill_g: 900, power_W: 1200 }],
    },
    (order) => answered(scheduleBrewers(order)),
  ),
  heat: question(
    'kettles on shared circuits: when to switch on which, and when all are hot',
    heatingOrder,
    {
      kettles: [
        { name: 'first', water_g: 900, power_W: 1200 },
        { name: 'second', water_g: 600, power_W: 1500 },
      ],
      circuits: [{ name: 'wall', limit_A: 10 }],
    },
    (order) => answered(planHeating(order)),
  ),
  talk: question(
    'sentences on the clock, between silences; what to cut when they do not fit',
    talkOrder,
    {
      segments: [
        {
          id: 'greeting',
          text: 'Good morning. Today I brew a washed coffee from an invented hill.',
          at_s: 0,
        },
        { id: 'story', takes_s: 50, may_be_cut: true, points: 0.5 },
        { id: 'flavour', takes_s: 30, points: 4 },
      ],
      silent: [{ from_s: 20, to_s: 38 }],
      limit_s: 120,
    },
    (order) => answered(placeTalk(order)),
  ),
  check: question(
    'a plan against the rules of a contest: allowed, not allowed, or to be asked',
    check,
    {
      contest: EXAMPLE_CONTEST,
      facts: { uses: ['own_water', 'chilling'], run_s: 590, cups: 3, cup_mL: 110 },
    },
    answerCheck,
  ),
  price: question(
    'choices in points of the total, with their spread',
    price,
    {
      contest: EXAMPLE_CONTEST,
      choices: [
        { name: 'a more precise description', marks: [{ category_id: 'description', by: 0.5, sd: 0.5 }] },
        {
          name: 'a longer story',
          marks: [{ category_id: 'service', by: 0.5, sd: 0.3 }],
          run: { mean_s: 598, sd_s: 8 },
        },
      ],
    },
    ({ contest: rules, choices }) => {
      const priced = priceChoices(rules, choices);
      return priced.ok ? { ok: true, value: { figures: { choices: priced.value }, remarks: [] } } : priced;
    },
  ),
  late: question(
    'a run that is behind: the ways to go on, with what each leaves out and costs',
    lateOrder,
    {
      brewers: {
        brewers: 2,
        pours: [60, 60, 60].map((water_g) => ({ water_g, after_s: { min: 40, max: 55 } })),
        flow_g_s: 5,
        drain_s: 40,
        kettles: [{ fill_g: 900, power_W: 1200 }],
        limit_s: 190,
      },
      talk: [
        { id: 'story', takes_s: 40, at_s: 20, may_be_cut: true, points: 0.5 },
        { id: 'flavour', takes_s: 25, at_s: 70 },
      ],
      begun: [{ id: 'brewer 1 pour 1', at_s: 38 }],
      now_s: 41,
      droppable: [{ name: 'the last pours', ids: ['brewer 1 pour 3', 'brewer 2 pour 3'], points: 4 }],
      penalty: { points: 1, cap_points: 30, hard_stop_s: 60 },
    },
    (order) => {
      const found = answerLate(order);
      return found.ok ? answered(found.value) : found;
    },
  ),
  overrun: question(
    'the chance of running over, from rehearsals, and what it is expected to cost',
    overrun,
    {
      runs_s: [588, 601, 575, 612, 594, 583],
      limit_s: 600,
      penalty: { points: 1, cap_points: 30, hard_stop_s: 60 },
    },
    answerOverrun,
  ),
  grams: question(
    'where the coffee goes, and how many brews are left to search with',
    gramOrder,
    {
      green_g: 2000,
      loss_pct: 14,
      uses: [
        { name: 'stage', times: 2, each_g: 72 },
        { name: 'rehearsals', times: 8, each_g: 55.5 },
      ],
      search_brew_g: 17.5,
    },
    (order) => answered(gramBudget(order)),
  ),
};
