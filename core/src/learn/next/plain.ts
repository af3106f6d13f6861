import { z } from 'zod';
import type { Problem } from '../../documents/problem.ts';
import { alpha, name, type PlainKind, plainKind, seed } from '../../panel/plain/kind.ts';
import { factorList, factorProblems, levelProblems } from '../design/make-design.ts';
import { learnProblem } from '../difference/input.ts';
import { planDialIn } from './dial-in.ts';
import { expectedInformation } from './information.ts';
import { championPair } from './pair.ts';
import { nextFinding } from './sentences.ts';
import { suggestNext } from './suggest.ts';
import type { NextQuestion } from './types.ts';

const value = z.number().min(-1e6).max(1e6);
const seconds = (most: number) => z.number().min(0).max(most);

const next = z.strictObject({
  factors: factorList,
  tried: z
    .array(
      z.strictObject({
        name: name.optional(),
        levels: z.array(value).min(1).max(11),
        value: value.nullable().default(null),
        doubt: z.number().min(0).max(1e6).default(0),
        age_d: z.number().min(0).max(1000).nullable().default(null),
      }),
    )
    .max(200)
    .default([]),
  /** Blind choices between tried brews, by their places from 1. */
  preferred: z
    .array(z.strictObject({ better: z.int().min(1).max(200), worse: z.int().min(1).max(200) }))
    .max(500)
    .default([]),
  figure: z
    .strictObject({
      name: name.default('score'),
      unit: z.string().max(20).default('points'),
      decimals: z.int().min(0).max(6).default(1),
    })
    .prefault({}),
  aim: z
    .discriminatedUnion('by', [
      z.strictObject({ by: z.literal('most') }),
      z.strictObject({ by: z.literal('least') }),
      z.strictObject({ by: z.literal('target'), target: value }),
    ])
    .default({ by: 'most' }),
  repeat_sd: z.number().gt(0).max(1e6).nullable().default(null),
  budget: z.strictObject({
    grams: z.number().min(0).max(100_000),
    dose_g: z.number().gt(0).max(300),
    minutes: z.number().min(0).max(100_000).nullable().default(null),
    brew_min: z.number().gt(0).max(600).default(5),
  }),
  seed,
});
type Next = z.infer<typeof next>;

function problemsOf({ factors, tried, preferred }: Next): Problem[] {
  const spoken = new Set(preferred.flatMap(({ better, worse }) => [better, worse]));
  return [
    ...factorProblems(factors),
    ...levelProblems(tried, factors.length, 'tried'),
    ...preferred.flatMap(({ better, worse }, i) =>
      (['better', 'worse'] as const).flatMap((which) => {
        const at = which === 'better' ? better : worse;
        return at > tried.length
          ? [learnProblem(['preferred', i, which], 'no_such_brew', { value: at, limit: tried.length })]
          : [];
      }),
    ),
    ...preferred.flatMap(({ better, worse }, i) =>
      better === worse ? [learnProblem(['preferred', i], 'itself', { value: better })] : [],
    ),
    ...tried.flatMap((one, i) =>
      one.value === null && !spoken.has(i + 1)
        ? [learnProblem(['tried', i], 'nothing_known', { value: i + 1 })]
        : [],
    ),
  ];
}

const questionOf = (of: Next): NextQuestion => ({
  ...of,
  tried: of.tried.map(({ name: said, ...rest }, i) => ({ name: said ?? `brew ${i + 1}`, ...rest })),
  preferred: of.preferred.map(({ better, worse }) => ({ better: better - 1, worse: worse - 1 })),
  expect: null,
});

const EXAMPLE = {
  factors: [
    { name: 'grind', unit: 'marks', low: 16, high: 24, step: 0.5 },
    { name: 'temperature', unit: '°C', low: 88, high: 96, step: 1 },
  ],
  tried: [
    { levels: [20, 92], value: 85.6, age_d: 8 },
    { levels: [17, 89], value: 84.1, age_d: 8 },
    { levels: [23, 95], value: 83.2, age_d: 9 },
    { levels: [17, 95], value: 84.9, age_d: 9 },
    { levels: [19, 93], value: 86.1, age_d: 10 },
  ],
  budget: { grams: 120, dose_g: 16.5 },
};

/** Questions about what to brew next, each from a table typed by hand. */
export const PLAIN_NEXT = {
  brew: plainKind(
    'the next brew worth its grams: what to change, what to expect, when to stop',
    next,
    EXAMPLE,
    (of) => {
      const problems = problemsOf(of);
      if (problems.length > 0) return { ok: false, problems };
      const { findings, suggestions, champion, ...rest } = suggestNext(questionOf(of));
      // People count brews from 1.
      const figures = { champion: champion && { ...champion, tried: champion.tried + 1 }, ...rest };
      const named = suggestions.map(({ changes, levels, ...rest }) => ({
        ...rest,
        ...Object.fromEntries(of.factors.map((factor, i) => [factor.name, levels[i]!])),
        changes: changes.map(({ factor, from, to }) => ({ factor: of.factors[factor]!.name, from, to })),
      }));
      return { ok: true, value: { figures: { suggestions: named, ...figures }, findings } };
    },
  ),
  pair: plainKind(
    'champion against challenger: which two to pour, in which order, and what will decide',
    next.extend({ alpha }),
    EXAMPLE,
    ({ alpha: level, ...of }) => {
      const problems = problemsOf(of);
      if (problems.length > 0) return { ok: false, problems };
      const pair = championPair(questionOf(of), level);
      if (!pair) {
        const { findings } = suggestNext(questionOf(of));
        return { ok: true, value: { figures: {}, findings } };
      }
      const { findings, challenger, ...figures } = pair;
      const changes = challenger.changes.map(({ factor, from, to }) => ({
        factor: of.factors[factor]!.name,
        from,
        to,
      }));
      return {
        ok: true,
        value: {
          figures: { ...figures, champion: figures.champion + 1, challenger: { ...challenger, changes } },
          findings,
        },
      };
    },
  ),
  'dial-in': plainKind(
    'so many minutes and grams with an unknown coffee: how many brews, what each is for, what is kept',
    z.strictObject({
      minutes: z.number().gt(0).max(600),
      grams: z.number().gt(0).max(10_000),
      dose_g: z.number().gt(0).max(300),
      purge_g: z.number().min(0).max(50).default(2),
      serve_cups: z.int().min(0).max(24).default(3),
      spare_doses: z.int().min(0).max(24).default(1),
      brew_s: z.number().gt(0).max(3600).default(200),
      ready_s: seconds(3600).default(100),
      cool_s: seconds(3600).default(120),
      taste_s: seconds(3600).default(40),
      close_min: z.number().min(0).max(600).default(2),
      factors: z.array(factorList.element).min(1).max(6),
      seed,
    }),
    { minutes: 38, grams: 350, dose_g: 16, factors: EXAMPLE.factors },
    (of) => {
      const problems = factorProblems(of.factors);
      if (problems.length > 0) return { ok: false, problems };
      const { findings, brews, ...figures } = planDialIn(of);
      const rows = brews.map(({ levels, known, ...rest }) => ({
        ...rest,
        ...Object.fromEntries(of.factors.map((factor, i) => [factor.name, levels?.[i] ?? null])),
        known: known.map((k) => k + 1),
      }));
      return { ok: true, value: { figures: { ...figures, brews: rows }, findings } };
    },
  ),
  information: plainKind(
    'which of several brews would teach most about a coffee, for its grams, by what is believed of it now',
    z.strictObject({
      candidates: z
        .array(
          z.strictObject({
            name,
            grams: z.number().gt(0).max(1000),
            /** Figures by each draw from what is believed: [draw][figure]. */
            predictions: z.array(z.array(value).min(1).max(12)).min(2).max(2000),
          }),
        )
        .min(1)
        .max(50),
      noise: z.array(z.number().gt(0).max(1e6)).min(1).max(12),
    }),
    {
      candidates: [
        {
          name: 'coarser',
          grams: 16.5,
          predictions: [
            [1.28, 165],
            [1.33, 172],
            [1.22, 158],
            [1.36, 181],
          ],
        },
        {
          name: 'hotter',
          grams: 16.5,
          predictions: [
            [1.38, 190],
            [1.39, 191],
            [1.37, 189],
            [1.4, 192],
          ],
        },
      ],
      noise: [0.03, 6],
    },
    (of) => {
      const problems = of.candidates.flatMap(({ predictions }, i) =>
        predictions.flatMap((row, d) =>
          row.length === of.noise.length
            ? []
            : [
                learnProblem(['candidates', i, 'predictions', d], 'ragged_figures', {
                  value: row.length,
                  limit: of.noise.length,
                }),
              ],
        ),
      );
      if (problems.length > 0) return { ok: false, problems };
      const { bits, bits_per_gram, best } = expectedInformation({
        predictions: of.candidates.map(({ predictions }) => predictions),
        noise: of.noise,
        grams: of.candidates.map(({ grams }) => grams),
      });
      const first = of.candidates[best]!;
      const said =
        Math.max(...bits) < 1e-6
          ? nextFinding('cannot', 'information_none')
          : nextFinding('note', 'information_best', {
              name: first.name,
              bits: Number(bits[best]!.toFixed(2)),
              grams: first.grams,
            });
      return {
        ok: true,
        value: {
          figures: {
            candidates: of.candidates.map((c, i) => ({
              name: c.name,
              bits: bits[i]!,
              bits_per_gram: bits_per_gram[i]!,
            })),
          },
          findings: [said],
        },
      };
    },
  ),
} as const satisfies Record<string, PlainKind>;
