import { z } from 'zod';
import type { Problem } from '../../documents/problem.ts';
import { aNotA } from '../a-not-a.ts';
import { compareDifferences, estimateDifference } from '../d-prime.ts';
import {
  criticalDifference,
  criticalSimilarity,
  differenceP,
  fewestAnswers,
  otherTests,
  similarityP,
} from '../difference-test.ts';
import { finding, rounded, writtenP } from '../findings.ts';
import { inputProblem, unless } from '../input-problems.ts';
import { correctAt, moreAnswers, sampleSize, type TestPlan, testPower } from '../power.ts';
import { PROTOCOLS } from '../protocols.ts';
import { replicatedTest } from '../replicated.ts';
import { sameDifferent } from '../same-different.ts';
import { sayDifference, sayMore, sayPlan, saySimilarity } from '../say-tests.ts';
import { twoAc } from '../two-ac.ts';
import {
  alpha,
  count,
  effect,
  intervalKind,
  level,
  type PlainKind,
  plainKind,
  protocol,
  some,
} from './kind.ts';

const notAbove = (path: readonly (string | number)[], value: number, limit: number): Problem[] =>
  value > limit ? [inputProblem(path, 'more_than_all', { value, limit })] : [];

/** Tests of difference and likeness, before and after. */
export const PLAIN_TESTS = {
  plan: plainKind(
    'before pouring: what so many answers can show, and how many it takes',
    z.strictObject({
      protocol,
      answers: some,
      aim: z.enum(['difference', 'similarity']).default('difference'),
      sides: z.enum(['one', 'two']).default('one'),
      alpha,
      limit: z.number().gt(0).lt(1).default(0.3),
      effect,
      power: z.number().min(0.5).max(0.99).default(0.8),
    }),
    { protocol: 'triangle', answers: 12, effect: { d_prime: 1.5 } },
    (of) => {
      const plan: TestPlan =
        of.aim === 'difference'
          ? { aim: 'difference', protocol: of.protocol, alpha: of.alpha, sides: of.sides }
          : { aim: 'similarity', protocol: of.protocol, alpha: of.alpha, limit: of.limit };
      const critical =
        of.aim === 'difference'
          ? criticalDifference(of.protocol, of.answers, of.alpha, of.sides)
          : criticalSimilarity(of.protocol, of.answers, of.limit, of.alpha);
      const figures = {
        critical,
        share_correct: correctAt(of.effect, of.protocol),
        power: testPower(plan, of.answers, of.effect),
        size: sampleSize(plan, of.effect, of.power),
        fewest: fewestAnswers(of.protocol, of.alpha, of.sides),
        task: PROTOCOLS[of.protocol].task,
      };
      return { ok: true, value: { figures, findings: sayPlan(plan, of.answers, of.effect) } };
    },
  ),
  table: plainKind(
    'critical numbers of a test, for a range of answers and several levels',
    z.strictObject({
      protocol,
      from: some.default(3),
      to: z.int().min(1).max(500).default(30),
      alphas: z.array(z.number().gt(0).max(0.5)).min(1).max(8).default([0.2, 0.1, 0.05, 0.01, 0.001]),
      sides: z.enum(['one', 'two']).default('one'),
    }),
    { protocol: 'triangle', from: 4, to: 12 },
    (of) =>
      unless(
        of.to < of.from ? [inputProblem(['to'], 'ends_before', { value: of.to, limit: of.from })] : [],
        () => ({
          figures: {
            alphas: of.alphas,
            rows: Array.from({ length: of.to - of.from + 1 }, (_, i) => ({
              answers: of.from + i,
              least: of.alphas.map((a) => criticalDifference(of.protocol, of.from + i, a, of.sides)),
            })),
          },
          findings: [],
        }),
      ),
  ),
  difference: plainKind(
    'are the cups different? Exact p, size with interval, and how many more cups would decide it',
    z.strictObject({ protocol, correct: count, answers: some, alpha, level, interval: intervalKind, effect }),
    { protocol: 'triangle', correct: 4, answers: 5 },
    (of) =>
      unless(notAbove(['correct'], of.correct, of.answers), () => {
        const answers = { protocol: of.protocol, correct: of.correct, total: of.answers };
        const plan = { aim: 'difference', protocol: of.protocol, alpha: of.alpha } as const;
        const size = estimateDifference(answers, of.level, of.interval);
        const more = moreAnswers(plan, answers, of.effect);
        const findings = sayDifference(answers, of.alpha, size);
        if (differenceP(answers) > of.alpha) findings.push(sayMore(plan, answers, of.effect));
        return {
          figures: {
            p: differenceP(answers),
            critical: criticalDifference(of.protocol, of.answers, of.alpha),
            ...size,
            more,
            other_tests: otherTests(answers),
          },
          findings,
        };
      }),
  ),
  similarity: plainKind(
    'are the cups alike enough? Exact test that fewer than a share can tell them apart',
    z.strictObject({
      protocol,
      correct: count,
      answers: some,
      alpha,
      limit: z.number().gt(0).lt(1).default(0.3),
      level,
      interval: intervalKind,
    }),
    { protocol: 'triangle', correct: 11, answers: 36, limit: 0.3 },
    (of) =>
      unless(notAbove(['correct'], of.correct, of.answers), () => {
        const answers = { protocol: of.protocol, correct: of.correct, total: of.answers };
        return {
          figures: {
            p: similarityP(answers, of.limit),
            critical: criticalSimilarity(of.protocol, of.answers, of.limit, of.alpha),
            ...estimateDifference(answers, of.level, of.interval),
          },
          findings: [saySimilarity(answers, of.limit, of.alpha)],
        };
      }),
  ),
  preference: plainKind(
    'is one of two cups preferred? Two-sided, with or without a "no difference" answer',
    z.strictObject({ first: count, second: count, no_difference: count.default(0), alpha, level, effect }),
    { first: 3, second: 9, no_difference: 2 },
    (of) =>
      unless(of.first + of.second === 0 ? [inputProblem(['first'], 'no_answers')] : [], () => {
        const answers = {
          protocol: 'paired',
          correct: Math.max(of.first, of.second),
          total: of.first + of.second,
        } as const;
        const plan = { aim: 'difference', protocol: 'paired', alpha: of.alpha, sides: 'two' } as const;
        const findings = sayDifference(answers, of.alpha, estimateDifference(answers), 'two');
        if (differenceP(answers, 'two') > of.alpha) findings.push(sayMore(plan, answers, of.effect));
        return {
          figures: {
            p: differenceP(answers, 'two'),
            critical: criticalDifference('paired', answers.total, of.alpha, 'two'),
            two_ac: twoAc(
              { prefers_first: of.first, no_difference: of.no_difference, prefers_second: of.second },
              of.level,
            ),
          },
          findings,
        };
      }),
  ),
  replicated: plainKind(
    'the same test repeated by each taster: mean, spread among tasters, d′',
    z.strictObject({
      protocol,
      tasters: z
        .array(z.strictObject({ correct: count, answers: some }))
        .min(2)
        .max(500),
      corrected: z.boolean().default(true),
    }),
    {
      protocol: 'triangle',
      tasters: [
        { correct: 5, answers: 8 },
        { correct: 3, answers: 8 },
        { correct: 7, answers: 8 },
      ],
    },
    (of) =>
      unless(
        of.tasters.flatMap((t, i) => notAbove(['tasters', i, 'correct'], t.correct, t.answers)),
        () => {
          const data = of.tasters.map((t) => ({ correct: t.correct, total: t.answers }));
          const fit = replicatedTest(of.protocol, data, of.corrected);
          const sum = data.reduce((t, d) => ({ correct: t.correct + d.correct, total: t.total + d.total }));
          const pooled = { protocol: of.protocol, ...sum };
          const differ = fit.alike.p <= 0.05;
          return {
            figures: { ...fit, pooled_p: differenceP(pooled) },
            findings: [
              ...sayDifference(pooled, 0.05, estimateDifference(pooled)).slice(0, 1),
              finding(differ ? 'caution' : 'note', differ ? 'tasters_differ' : 'tasters_alike', {
                p: writtenP(fit.alike.p),
              }),
            ],
          };
        },
      ),
  ),
  'a-not-a': plainKind(
    'single cups, "is it A?": d′, intervals, exact p',
    z.strictObject({ hits: count, of_a: some, false_alarms: count, of_other: some, level }),
    { hits: 10, of_a: 20, false_alarms: 3, of_other: 20 },
    ({ level: confidence, ...of }) =>
      unless(
        [
          ...notAbove(['hits'], of.hits, of.of_a),
          ...notAbove(['false_alarms'], of.false_alarms, of.of_other),
        ],
        () => {
          const figures = aNotA(of, confidence);
          return {
            figures: { ...figures },
            findings: figures.adjusted ? [finding('caution', 'a_not_a_adjusted')] : [],
          };
        },
      ),
  ),
  'same-different': plainKind(
    'pairs, "the same or different?": d′ and the border of "different"',
    z.strictObject({
      same_of_same: count,
      different_of_same: count,
      same_of_different: count,
      different_of_different: count,
    }),
    { same_of_same: 8, different_of_same: 5, same_of_different: 4, different_of_different: 9 },
    (of) =>
      unless(
        [
          ...(of.same_of_same + of.different_of_same === 0
            ? [inputProblem(['same_of_same'], 'no_answers')]
            : []),
          ...(of.same_of_different + of.different_of_different === 0
            ? [inputProblem(['same_of_different'], 'no_answers')]
            : []),
        ],
        () => ({ figures: { ...sameDifferent(of) }, findings: [] }),
      ),
  ),
  compare: plainKind(
    'do several tests of difference, of whatever protocol, agree on the size?',
    z.strictObject({
      tests: z
        .array(z.strictObject({ protocol, correct: count, answers: some }))
        .min(2)
        .max(100),
    }),
    {
      tests: [
        { protocol: 'triangle', correct: 14, answers: 24 },
        { protocol: 'tetrad', correct: 12, answers: 24 },
      ],
    },
    (of) =>
      unless(
        of.tests.flatMap((t, i) => notAbove(['tests', i, 'correct'], t.correct, t.answers)),
        () => {
          const tests = of.tests.map((t) => ({ protocol: t.protocol, correct: t.correct, total: t.answers }));
          const found = compareDifferences(tests);
          const differ = found !== null && found.p <= 0.05;
          return {
            figures: { tests: tests.map((t) => estimateDifference(t)), comparison: found },
            findings: [
              found === null
                ? finding('cannot', 'compare_cannot')
                : finding(differ ? 'clear' : 'not_shown', differ ? 'compare_clear' : 'compare_not_shown', {
                    p: writtenP(found.p),
                    d: rounded(found.common.value),
                    se: rounded(found.common.se ?? 0),
                  }),
            ],
          };
        },
      ),
  ),
} satisfies Record<string, PlainKind>;
