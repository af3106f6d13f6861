import { z } from 'zod';
import type { Problem } from '../../documents/problem.ts';
import { alpha, name, type PlainKind, plainKind, protocol, seed } from '../../panel/plain/kind.ts';
import { compareBrews } from './compare.ts';
import { detectableDifference } from './detectable.ts';
import { learnProblem } from './input.ts';
import { POURS } from './plain-pours.ts';
import type { ComparedBrew } from './types.ts';
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
  pours: POURS,
} as const satisfies Record<string, PlainKind>;
