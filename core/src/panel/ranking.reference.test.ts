import { describe, expect, it } from 'vitest';
import citations from '../../../reference/journal-citations/citations.json' with { type: 'json' };
import examples from '../../../reference/panel-examples/examples.json' with { type: 'json' };
import { bradleyTerry, type PairCount, worthDifference } from './bradley-terry.ts';
import { checkAll, cochran, holm, mcNemar } from './check-all.ts';
import { binomialMass } from './distributions.ts';
import { chanceFrom } from './random.ts';
import {
  friedman,
  friedmanStatistic,
  leastRankDifference,
  midRanks,
  pageTest,
  pairsApart,
} from './ranking.ts';
import { arrangements, columnSquaresP } from './row-permutations.ts';
import { sayWords } from './say-results.ts';

const { ranking } = examples;

const printed = (found: number, expected: number, decimals: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);

describe('rankings', () => {
  it('the example of ISO 8587 as quoted; F, p and least difference computed', () => {
    const { statistic, p } = friedmanStatistic(ranking.rank_sums, ranking.tasters);
    printed(statistic, ranking.statistic, 6);
    printed(p, ranking.p, 5);
    const least = leastRankDifference(ranking.tasters, ranking.names.length, 0.05);
    printed(least, ranking.least, 3);
    const pairs = pairsApart(ranking.rank_sums, least);
    expect(pairs.map(({ first, second }) => ranking.names[first]! + ranking.names[second]!)).toEqual(
      ranking.apart,
    );
  });
  it('equal values share their mean rank', () => {
    expect(midRanks([3, 1, 3, 2])).toEqual([3.5, 1, 3.5, 2]);
  });
  it('the exact p by hand: three tasters agree on three cups, 6 of 216', () => {
    const found = friedman([
      [1, 2, 3],
      [1, 2, 3],
      [1, 2, 3],
    ]);
    expect(found.p).toEqual({ p: expect.closeTo(6 / 216, 12), from: 'all' });
    expect(found.concordance).toBeCloseTo(1, 12);
    expect(found.least_difference_conover).toBeNull();
  });
  it('merging equal states gives what going through every table gives, ties included', () => {
    const rows = [
      [1, 2.5, 2.5],
      [1, 3, 2],
      [3, 1.5, 1.5],
      [1, 2, 3],
    ];
    const squares = (sums: number[]) => sums.reduce((t, v) => t + v * v, 0);
    const sums = (of: number[][]) => of[0]!.map((_, c) => of.reduce((t, r) => t + r[c]!, 0));
    const seen = squares(sums(rows));
    let [reached, all] = [0, 0];
    const orders = rows.map(arrangements);
    for (const a of orders[0]!)
      for (const b of orders[1]!)
        for (const c of orders[2]!)
          for (const d of orders[3]!) {
            all++;
            if (squares(sums([a, b, c, d])) >= seen) reached++;
          }
    expect(columnSquaresP(rows, chanceFrom(1)).p).toBeCloseTo(reached / all, 12);
  });
  it('random arrangements take over where there are too many, and agree with the χ² of a large table', () => {
    const scores = Array.from({ length: 40 }, (_, t) =>
      [0, 1, 2, 3, 4, 5, 6, 7].map((c) => ((c * 5 + t * 3) % 8) + (c === 2 ? 2 : 0)),
    );
    const found = friedman(scores);
    expect(found.p.from).toBeGreaterThan(1000);
    expect(Math.abs(found.p.p - found.p_chi_squared)).toBeLessThan(0.02);
  });
  it('a table in which everybody says "equal" shows nothing', () => {
    expect(
      friedman([
        [1, 1, 1],
        [2, 2, 2],
      ]).p.p,
    ).toBe(1);
  });
  it('Page by hand: two tasters agree with the prediction on three cups, 1 of 36', () => {
    const found = pageTest([
      [1, 2, 3],
      [4, 5, 6],
    ]);
    expect(found.statistic).toBe(28);
    expect(found.p.p).toBeCloseTo(1 / 36, 12);
    // Mean 24 and standard deviation 2, by the formula.
    expect(found.z).toBeCloseTo((28 - 24) / 2, 12);
  });
});

describe('words', () => {
  it("Cochran's Q by hand", () => {
    const found = cochran([
      [1, 0, 0],
      [1, 1, 0],
      [1, 0, 0],
      [1, 1, 1],
      [1, 0, 1],
      [0, 0, 0],
    ]);
    // (k−1)(k ΣG² − T²)/(k T − ΣL²) = 2·(3·33 − 81)/(27 − 19).
    expect(found.statistic).toBeCloseTo((2 * (3 * 33 - 81)) / (3 * 9 - 19), 12);
    // Two rows with one tick and two with two: 3⁴ tables, of which 3·(1·1·…) reach it.
    expect(found.p.p).toBeCloseTo(2 / 9, 12);
  });
  it('nobody ticks anything: nothing shown, and no division by 0', () => {
    expect(
      cochran([
        [0, 0],
        [1, 1],
      ]),
    ).toMatchObject({ statistic: 0, p: { p: 1 } });
  });
  it('Holm: smallest times the number, never falling', () => {
    expect(holm([0.01, 0.04, 0.03])).toEqual([0.03, 0.06, 0.06]);
    const words = checkAll([
      { word: 'a', ticks: Array.from({ length: 8 }, () => [1, 0]) },
      { word: 'b', ticks: Array.from({ length: 8 }, (_, i) => [i % 2, 1 - (i % 2)]) },
    ]);
    expect(words[0]!.p.p).toBeCloseTo(2 / 256, 12);
    expect(words[0]!.p_holm).toBeCloseTo(4 / 256, 12);
    expect(words[1]!.p_holm).toBe(1);
    expect(sayWords(words, 0.05, 8).map((f) => f.firmness)).toEqual(['clear', 'not_shown']);
    expect(sayWords(words, 0.05, 4).map((f) => f.code)).toEqual(['words_cannot_reach']);
  });
  it('McNemar: 6 against 0 is 2 in 64', () => expect(mcNemar(6, 0)).toBeCloseTo(2 / 64, 12));
});

describe('worths from pairs; BradleyTerry2 vignette, errors computed with R', () => {
  const pairs = (): PairCount[] =>
    citations.journals.flatMap((_, a) =>
      citations.journals.slice(a + 1).map((__, k) => {
        const b = a + 1 + k;
        return {
          first: a,
          second: b,
          first_wins: citations.wins[a]![b]!,
          second_wins: citations.wins[b]![a]!,
          ties: 0,
        };
      }),
    );
  it('worths, errors, deviances', () => {
    const fit = bradleyTerry(4, pairs())!;
    fit.worths.forEach((v, i) => {
      printed(v, citations.worths[i]!, 4);
      printed(fit.se[i]!, citations.se[i] ?? 0, i === 3 ? 5 : 6);
      if (i !== 2) printed(worthDifference(fit, i, 2).difference, citations.against_jasa[i]!, 4);
    });
    printed(fit.deviance, citations.deviance, 6);
    printed(fit.null_deviance!, citations.null_deviance, 0);
    expect(fit.df).toBe(citations.df);
    expect(fit.penalised).toBe(false);
    // AIC of the binomial fit, three parameters.
    const logLikelihood = pairs().reduce((sum, { first, second, first_wins, second_wins }) => {
      const p = worthDifference(fit, first, second).chance_first_wins;
      return sum + Math.log(binomialMass(first_wins, first_wins + second_wins, p));
    }, 0);
    printed(2 * 3 - 2 * logLikelihood, citations.aic, 2);
  });
  it('bias-reduced worths', () => {
    const fit = bradleyTerry(4, pairs(), { penalty: 'firth' })!;
    citations.bias_reduced.forEach((v, i) => {
      printed(fit.worths[i]!, v, 4);
    });
  });
  it('ties and order: the score of the likelihood vanishes there (SciPy minimum, computed)', () => {
    const fit = bradleyTerry(
      3,
      [
        { first: 0, second: 1, first_wins: 8, second_wins: 3, ties: 2 },
        { first: 1, second: 0, first_wins: 5, second_wins: 6, ties: 1 },
        { first: 0, second: 2, first_wins: 9, second_wins: 2, ties: 1 },
        { first: 2, second: 0, first_wins: 4, second_wins: 6, ties: 2 },
        { first: 1, second: 2, first_wins: 6, second_wins: 4, ties: 1 },
        { first: 2, second: 1, first_wins: 5, second_wins: 5, ties: 2 },
      ],
      { order_effect: true },
    )!;
    printed(fit.worths[1]!, -0.61225662, 6);
    printed(fit.worths[2]!, -0.8838392, 6);
    printed(fit.order!.value, 0.37933361, 6);
    printed(fit.ties!.value, -0.99760523, 6);
  });
  it('a cup that won everything gets a finite worth and says so', () => {
    const fit = bradleyTerry(2, [{ first: 0, second: 1, first_wins: 5, second_wins: 0, ties: 0 }])!;
    expect(fit.penalised).toBe(true);
    // Firth on 5 of 5 is ½ a win each way: ln(0.5/5.5).
    expect(fit.worths[1]).toBeCloseTo(Math.log(0.5 / 5.5), 6);
  });
  it('cups that never met, even through others, have no common scale', () => {
    const apart = [
      { first: 0, second: 1, first_wins: 2, second_wins: 1, ties: 0 },
      { first: 2, second: 3, first_wins: 2, second_wins: 1, ties: 0 },
    ];
    expect(bradleyTerry(4, apart)).toBeNull();
  });
});
