import { z } from 'zod';
import type { Problem } from '../../documents/problem.ts';
import { alpha, name, type PlainKind, plainKind, protocol, seed } from '../../panel/plain/kind.ts';
import { blamePours } from './blame.ts';
import { compareBrews } from './compare.ts';
import { detectableDifference } from './detectable.ts';
import { learnProblem } from './input.ts';
import { type ComparedBrew, POUR_FIGURES } from './types.ts';
import { cupsAlike } from './uniformity.ts';

const value = z.number().min(-1e6).max(1e6);
const spread = z.number().gt(0).max(1e6);
const figure = z
  .strictObject({
    name: name.default('yield'),
    unit: z.string().max(20).default('%'),
    decimals: z.int().min(0).max(6).default(2),
  })
  .prefault({});
const doseG = z.number().gt(0).max(300).nullable().default(null);
const history = z.strictObject({ sd: spread, brews: z.int().min(2).max(5000).nullable().default(null) });

const brew = z.union([
  value,
  z.strictObject({
    value,
    doubt: z.number().min(0).max(1e6).optional(),
    session: z.string().max(80).nullable().optional(),
    age_d: z.number().min(0).max(1000).nullable().optional(),
  }),
]);

const side = z.strictObject({
  name,
  brews: z.array(brew).min(1).max(200),
  /** For brews that do not say their own. */
  age_d: z.number().min(0).max(1000).nullable().default(null),
  session: z.string().max(80).nullable().default(null),
});

const brewsOf = (plan: 'a' | 'b', of: z.infer<typeof side>, doubt: number): ComparedBrew[] =>
  of.brews.map((one) => {
    const said = typeof one === 'number' ? { value: one } : one;
    return {
      plan,
      value: said.value,
      doubt: said.doubt ?? doubt,
      session: said.session ?? of.session,
      age_d: said.age_d ?? of.age_d,
    };
  });

const record = <K extends string>(keys: readonly K[], of: z.ZodType<number>) =>
  z.strictObject(
    Object.fromEntries(keys.map((key) => [key, of.optional()])) as Record<
      K,
      z.ZodOptional<z.ZodType<number>>
    >,
  );
const slips = z.strictObject({
  water_g: z.number().min(0).max(5000).nullable().default(null),
  start_s: z.number().min(0).max(7200).nullable().default(null),
  duration_s: z.number().min(0).max(7200).nullable().default(null),
});
const slipNumbers = z.strictObject({ water_g: value, start_s: value, duration_s: value });
const figureNumbers = z.strictObject({
  strength_pct: value,
  yield_pct: value,
  beverage_g: value,
  drawdown_s: value.nullable(),
  server_C: value,
});

/** JSON has no NaN: what does not exist is null there. */
const orNaN = <T extends Record<string, number | null>>(of: T) =>
  Object.fromEntries(Object.entries(of).map(([key, v]) => [key, v ?? Number.NaN])) as {
    [K in keyof T]: number;
  };

const figureNames = record(POUR_FIGURES, value);
const known = <T extends Record<string, number | undefined>>(of: T) =>
  Object.fromEntries(Object.entries(of).filter(([, v]) => v !== undefined)) as { [K in keyof T]?: number };

/** Cups as they were measured, without the engine: `pourline difference pours` adds the sensitivities of a plan. */
export const measuredCups = z.strictObject({
  cups: z
    .array(
      z.strictObject({
        name,
        pours: z.array(slips.nullable()).min(1).max(40),
        figures: figureNames,
      }),
    )
    .min(2)
    .max(24),
  pour_doubt: slipNumbers.default({ water_g: 0.5, start_s: 0.5, duration_s: 0.7 }),
  figure_doubt: figureNames.prefault({
    strength_pct: 0.01,
    yield_pct: 0.15,
    beverage_g: 0.3,
    drawdown_s: 2,
    server_C: 0.5,
  }),
  unexplained: figureNames.prefault({
    strength_pct: 0.02,
    yield_pct: 0.3,
    beverage_g: 1.5,
    drawdown_s: 5,
    server_C: 0.7,
  }),
  seed,
});

const blame = measuredCups.extend({
  sensitivities: z.strictObject({
    pours: z.array(z.string().max(80)).min(1).max(40),
    planned: z.array(slipNumbers),
    base: figureNumbers,
    effect: z.array(
      z.strictObject({ water_g: figureNumbers, start_s: figureNumbers, duration_s: figureNumbers }),
    ),
  }),
});

const EXAMPLE_EFFECT = (strength: number, beverage: number) => ({
  strength_pct: strength,
  yield_pct: 0.003,
  beverage_g: beverage,
  drawdown_s: null,
  server_C: 0.05,
});
const EXAMPLE_POUR = {
  water_g: EXAMPLE_EFFECT(-0.0055, 0.7),
  start_s: EXAMPLE_EFFECT(0.0007, -0.27),
  duration_s: EXAMPLE_EFFECT(-0.0003, -0.1),
};
const EXAMPLE_BASE = { strength_pct: 1.3, yield_pct: 18.9, beverage_g: 205, drawdown_s: null, server_C: 63 };

/** Questions about brews that were made of two plans, or were meant to be the same, each from a table typed by hand. */
export const PLAIN_DIFFERENCE = {
  brews: plainKind(
    'are two plans different? Brews of each, with age, sittings, a trusted scatter and what a panel said',
    z.strictObject({
      a: side,
      b: side,
      figure,
      alpha,
      /** Standard uncertainty of a measurement, for brews that do not say their own. */
      doubt: z.number().min(0).max(1e6).default(0),
      history: history.nullable().default(null),
      limit: spread.nullable().default(null),
      drift: z
        .strictObject({ per_d: value, sd: z.number().min(0).max(1e6) })
        .nullable()
        .default(null),
      panel: z
        .strictObject({ protocol, correct: z.int().min(0).max(5000), answers: z.int().min(1).max(5000) })
        .nullable()
        .default(null),
      dose_g: doseG,
      seed,
    }),
    {
      a: { name: '20 marks', brews: [19.4, 19.9, 19.2], age_d: 10 },
      b: { name: '19 marks', brews: [20.1, 19.8, 20.4], age_d: 12 },
      doubt: 0.15,
      history: { sd: 0.35 },
      panel: { protocol: 'triangle', correct: 4, answers: 4 },
      dose_g: 16.5,
    },
    (of) => {
      const problems: Problem[] =
        of.a.name === of.b.name ? [learnProblem(['b', 'name'], 'name_twice', { value: of.b.name })] : [];
      if (problems.length > 0) return { ok: false, problems };
      const { findings, ...figures } = compareBrews({
        ...of,
        names: [of.a.name, of.b.name],
        brews: [...brewsOf('a', of.a, of.doubt), ...brewsOf('b', of.b, of.doubt)],
      });
      return { ok: true, value: { figures: { ...figures }, findings } };
    },
  ),
  plan: plainKind(
    'before brewing: what so many brews of two plans could show, and how many it takes',
    z.strictObject({
      brews_a: z.int().min(1).max(200),
      brews_b: z.int().min(1).max(200),
      history,
      wanted: spread.nullable().default(null),
      alpha,
      power: z.number().min(0.5).max(0.99).default(0.8),
      figure,
      dose_g: doseG,
    }),
    { brews_a: 3, brews_b: 3, history: { sd: 0.35 }, wanted: 0.6, dose_g: 16.5 },
    (of) => {
      const { findings, ...figures } = detectableDifference({ ...of, counts: [of.brews_a, of.brews_b] });
      return { ok: true, value: { figures, findings } };
    },
  ),
  cups: plainKind(
    'were cups that were meant to be the same, the same? Against your own sets, the measurement and what a guest notices',
    z.strictObject({
      figures: z
        .array(
          z.strictObject({
            name,
            unit: z.string().max(20).default(''),
            decimals: z.int().min(0).max(6).default(2),
            values: z.array(value.nullable()).min(2).max(24),
            doubt: z.number().min(0).max(1e6).default(0),
            history: z
              .strictObject({ sd: spread, sets: z.int().min(1).max(5000) })
              .nullable()
              .default(null),
            limit: spread.nullable().default(null),
          }),
        )
        .min(1)
        .max(12),
      alpha,
    }),
    {
      figures: [
        {
          name: 'strength',
          unit: '%',
          values: [1.4, 1.41, 1.48],
          doubt: 0.01,
          history: { sd: 0.015, sets: 8 },
        },
        { name: 'beverage', unit: 'g', decimals: 1, values: [221, 222, 220.5], doubt: 0.3 },
        { name: 'temperature', unit: '°C', decimals: 1, values: [62, 62.5, 61.8], doubt: 0.3, limit: 2 },
      ],
    },
    (of) => {
      const first = of.figures[0]!.values.length;
      const problems = of.figures.flatMap(({ values }, i) =>
        values.length === first
          ? []
          : [
              learnProblem(['figures', i, 'values'], 'ragged_figures', {
                value: values.length,
                limit: first,
              }),
            ],
      );
      if (problems.length > 0) return { ok: false, problems };
      const { findings, figures, verdict } = cupsAlike(of.figures, of.alpha);
      // People count cups from 1.
      const rows = figures.map((one) => ({ ...one, odd: one.odd && { ...one.odd, cup: one.odd.cup + 1 } }));
      return { ok: true, value: { figures: { verdict, figures: rows }, findings } };
    },
  ),
  pours: plainKind(
    'which pour made a cup differ? Measured pours and cups, with what each gram and second does by the engine',
    blame,
    {
      sensitivities: {
        pours: ['first', 'second', 'third'],
        planned: [0, 40, 80].map((start_s) => ({ water_g: 80, start_s, duration_s: 15 })),
        base: EXAMPLE_BASE,
        effect: [EXAMPLE_POUR, EXAMPLE_POUR, EXAMPLE_POUR],
      },
      cups: [
        {
          name: 'left',
          pours: [
            { water_g: 80.2, start_s: 0, duration_s: 15 },
            { water_g: 79.8, start_s: 40, duration_s: 15.4 },
            { water_g: 80.1, start_s: 80, duration_s: 14.8 },
          ],
          figures: { strength_pct: 1.31, beverage_g: 205.1 },
        },
        {
          name: 'middle',
          pours: [
            { water_g: 79.9, start_s: 0, duration_s: 15.1 },
            { water_g: 89.5, start_s: 40.5, duration_s: 16.8 },
            { water_g: 80.3, start_s: 80, duration_s: 15 },
          ],
          figures: { strength_pct: 1.25, beverage_g: 212.3 },
        },
        {
          name: 'right',
          pours: [
            { water_g: 80.4, start_s: 0, duration_s: 14.9 },
            { water_g: 80.1, start_s: 40, duration_s: 15 },
            { water_g: 79.6, start_s: 80.5, duration_s: 15.2 },
          ],
          figures: { strength_pct: 1.3, beverage_g: 204.9 },
        },
      ],
    },
    (of) => {
      const count = of.sensitivities.pours.length;
      const problems = of.cups.flatMap(({ pours }, i) =>
        pours.length === count
          ? []
          : [learnProblem(['cups', i, 'pours'], 'ragged_figures', { value: pours.length, limit: count })],
      );
      if (of.sensitivities.effect.length !== count)
        problems.push(
          learnProblem(['sensitivities', 'effect'], 'ragged_figures', {
            value: of.sensitivities.effect.length,
            limit: count,
          }),
        );
      if (problems.length > 0) return { ok: false, problems };
      const { findings, cups } = blamePours({
        sensitivities: {
          ...of.sensitivities,
          base: orNaN(of.sensitivities.base),
          effect: of.sensitivities.effect.map((slip) => ({
            water_g: orNaN(slip.water_g),
            start_s: orNaN(slip.start_s),
            duration_s: orNaN(slip.duration_s),
          })),
        },
        cups: of.cups.map((cup) => ({ ...cup, figures: known(cup.figures) })),
        pour_doubt: of.pour_doubt,
        figure_doubt: known(of.figure_doubt),
        unexplained: known(of.unexplained),
        seed: of.seed,
      });
      const rows = cups.map((one) => ({
        ...one,
        cup: one.cup + 1,
        against: one.against.map((c) => c + 1),
        pours: one.pours.map((pour) => ({ ...pour, pour: pour.pour + 1 })),
      }));
      return { ok: true, value: { figures: { cups: rows }, findings } };
    },
  ),
} as const satisfies Record<string, PlainKind>;
