import { z } from 'zod';
import { alpha, name, type PlainKind, plainKind } from '../../panel/plain/kind.ts';
import { learnProblem } from '../difference/input.ts';
import { analyseDesign } from './analyse-design.ts';
import { designChoices } from './choices.ts';
import {
  COUNTS,
  designOf,
  doseG,
  factorList,
  factorProblems,
  level,
  levelProblems,
  MODEL_OF,
  make,
  models,
} from './make-design.ts';
import { termsOf } from './model.ts';
import { designQuality } from './quality.ts';
import { makeRunSheet } from './run-sheet.ts';

const results = z
  .array(
    z.strictObject({
      levels: z.array(level).min(1).max(11),
      value: level,
      block: z
        .union([z.string().max(80), z.number()])
        .nullable()
        .default(null),
    }),
  )
  .min(2)
  .max(500);

const THREE = [
  { name: 'grind', unit: 'marks', low: 18, high: 22, step: 0.5 },
  { name: 'temperature', unit: '°C', low: 88, high: 96, step: 1 },
  { name: 'dose', unit: 'g', low: 15, high: 17, step: 0.1 },
];

/** Questions about designed sets of brews, each from a table typed by hand. */
export const PLAIN_DESIGN = {
  choices: plainKind(
    'which sets of brews there are for so many factors, what each can tell, and what it costs',
    z.strictObject({
      factors: factorList,
      mixture: z.boolean().default(false),
      most_runs: z.int().min(2).max(256).default(32),
      dose_g: doseG,
    }),
    { factors: THREE, most_runs: 20, dose_g: 16.5 },
    (of) => {
      const problems = factorProblems(of.factors);
      if (problems.length > 0) return { ok: false, problems };
      // Findings stand in JSON; in print each would fill a table of its own.
      const choices = designChoices(of.factors, of).map(({ design, ...rest }) => ({
        kind: design.kind,
        ...rest,
        resolution: design.resolution,
        star: design.alpha,
      }));
      return { ok: true, value: { figures: { choices }, findings: [] } };
    },
  ),
  make: plainKind(
    'a sheet of brews: which levels, in which order, on which day',
    make,
    { factors: THREE, kind: 'box_behnken', per_day: 8, dose_g: 16.5, seed: 7 },
    (of) => {
      const [low, high] = COUNTS[of.kind];
      const k = of.factors.length;
      const problems = factorProblems(of.factors);
      if (k < low || k > high)
        problems.push(learnProblem(['factors'], 'factor_count', { kind: of.kind, low, high, value: k }));
      if (problems.length > 0) return { ok: false, problems };
      const model = of.model ?? MODEL_OF[of.kind];
      const design = designOf(of, model);
      if (!design.ok) return design;
      const { findings, ...sheet } = makeRunSheet(design.value, of.factors, { ...of, model });
      const { points, aliases, words, ...about } = design.value;
      const names = (sets: readonly (readonly number[])[]) =>
        sets.map((set) => set.map((i) => of.factors[i]!.name).join(' × '));
      return {
        ok: true,
        value: {
          figures: {
            ...sheet,
            runs: sheet.runs.map(({ run, block, levels, coded }) => ({
              run,
              block,
              ...Object.fromEntries(of.factors.map((factor, i) => [factor.name, levels[i]!])),
              coded,
            })),
            design: { ...about, aliases: aliases.map((set) => names(set).join(' = ')), words: names(words) },
            quality: designQuality(points, termsOf(model, k)),
          },
          findings,
        },
      };
    },
  ),
  analyse: plainKind(
    'what a set of brews taught: effects, fit, best levels',
    z.strictObject({
      factors: factorList,
      results,
      model: models.default('interactions'),
      figure: z
        .strictObject({
          name: name.default('value'),
          unit: z.string().max(20).default(''),
          decimals: z.int().min(0).max(6).default(2),
        })
        .prefault({}),
      aim: z
        .discriminatedUnion('by', [
          z.strictObject({ by: z.literal('most') }),
          z.strictObject({ by: z.literal('least') }),
          z.strictObject({ by: z.literal('target'), target: level }),
        ])
        .default({ by: 'most' }),
      alpha,
    }),
    {
      factors: THREE.slice(0, 2),
      model: 'quadratic',
      figure: { name: 'score', unit: 'points', decimals: 1 },
      results: [
        [18, 88, 82.1],
        [22, 88, 81.4],
        [18, 96, 83.9],
        [22, 96, 82.2],
        [18, 92, 85],
        [22, 92, 84.1],
        [20, 88, 83.2],
        [20, 96, 84.6],
        [20, 92, 86],
        [20, 92, 85.7],
        [20, 92, 86.2],
      ].map(([grind, temperature, value]) => ({ levels: [grind, temperature], value })),
    },
    (of) => {
      const problems = [
        ...factorProblems(of.factors),
        ...levelProblems(of.results, of.factors.length, 'results'),
      ];
      if (of.model.startsWith('mixture'))
        of.results.forEach(({ levels }, i) => {
          const sum = levels.reduce((t, v) => t + v, 0);
          if (Math.abs(sum - 1) > 0.005)
            problems.push(
              learnProblem(['results', i, 'levels'], 'shares_sum', { value: Number(sum.toFixed(4)) }),
            );
        });
      if (problems.length > 0) return { ok: false, problems };
      const found = analyseDesign(of.factors, of.results, of);
      if (!found.ok) return { ok: true, value: { figures: {}, findings: found.findings } };
      const { findings, coefficients, ...figures } = found.value;
      return {
        ok: true,
        value: {
          figures: { ...figures, coefficients: coefficients.map(({ term: _, ...rest }) => rest) },
          findings,
        },
      };
    },
  ),
} as const satisfies Record<string, PlainKind>;
