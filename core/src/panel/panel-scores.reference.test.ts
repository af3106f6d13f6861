import { describe, expect, it } from 'vitest';
import examples from '../../../reference/panel-examples/examples.json' with { type: 'json' };
import { assessors } from './assessors.ts';
import { correspondence, describedDifferently } from './correspondence.ts';
import { facets } from './facets.ts';
import { fitMixed, type MixedData, testRandom } from './mixed-model.ts';
import { anovaTests, panelAnova } from './panel-anova.ts';
import { additiveSeverity, linkedGroups } from './severity.ts';
import { chanceAbove, chanceAhead, totalScore } from './total-score.ts';

const { mixed, rasch, smokers, total, tvbo } = examples;

const printed = (found: number, expected: number, decimals: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);

/** The invented panel as a mixed model, some scores left out. */
function mixedData(leftOut: readonly number[] = []): MixedData {
  const rows = mixed.table.flatMap((row, taster) =>
    row.flatMap((cell, cup) => cell.map((y) => ({ y, taster, cup }))),
  );
  const kept = rows.filter((_, i) => !leftOut.includes(i));
  return {
    y: kept.map((r) => r.y),
    x: kept.map((r) => [1, Number(r.cup === 1), Number(r.cup === 2), Number(r.cup === 3)]),
    random: [
      { name: 'taster', group: kept.map((r) => r.taster) },
      { name: 'taster × cup', group: kept.map((r) => r.taster * 4 + r.cup) },
    ],
  };
}
const ALL_CUPS = [
  [0, 1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, 0, 1],
];

describe('scores of a panel', () => {
  it('F of products of TVbo from its sums of squares (R)', () => {
    const line = ([ss, df]: number[]) => ({ ss: ss!, df: df!, ms: ss! / df! });
    const tests = anovaTests(
      {
        taster: line(tvbo.taster),
        cup: line(tvbo.product),
        interaction: line(tvbo.interaction),
        residual: line(tvbo.residual),
      },
      tvbo.repeats,
    );
    printed(tests.cup_test.f, tvbo.f_mixed, 4);
    expect(tests.cup_test).toMatchObject({ df1: 11, df2: 77 });
    // Against repeats alone the same cups look almost three times as different.
    expect(tests.cup_test_fixed!.f).toBeGreaterThan(2.5 * tests.cup_test.f);
  });
  it('sums of squares add up to the total', () => {
    const found = panelAnova(mixed.table);
    const all = mixed.table.flat(2);
    const mean = all.reduce((a, b) => a + b, 0) / all.length;
    const totalSs = all.reduce((t, v) => t + (v - mean) ** 2, 0);
    expect(found.taster.ss + found.cup.ss + found.interaction.ss + found.residual!.ss).toBeCloseTo(
      totalSs,
      10,
    );
    expect(panelAnova(mixed.table.map((row) => row.map((cell) => [cell[0]!]))).residual).toBeNull();
  });
  it('a taster who compresses the scale, and one who guesses, are found', () => {
    const found = assessors(mixed.table);
    expect(found[3]!.remarks).toContain('compresses_scale');
    expect(found[3]!.slope).toBeLessThan(0.5);
    expect(found[0]!.remarks).toEqual([]);
    const guessing = mixed.table.map((row, i) =>
      i === 2
        ? [
            [6, 8],
            [7, 5],
            [8, 6],
            [5, 7],
          ]
        : row,
    );
    expect(assessors(guessing)[2]!.remarks).toEqual(
      expect.arrayContaining(['does_not_tell_apart', 'disagrees', 'repeats_poorly']),
    );
  });
});

describe('mixed model', () => {
  it('a balanced panel gives the analysis of variance', () => {
    const anova = panelAnova(mixed.table);
    const fit = fitMixed(mixedData());
    const test = fit.test(ALL_CUPS);
    expect(Math.abs(test.f / anova.cup_test.f - 1)).toBeLessThan(1e-5);
    expect(Math.abs(test.df2 - 12)).toBeLessThan(1e-3);
    printed(fit.variances[0]!.variance, anova.variance.taster, 5);
    printed(fit.variances[1]!.variance, anova.variance.interaction, 5);
    printed(fit.residual, anova.variance.residual!, 5);
  });
  it('an incomplete panel, against dense matrices (NumPy)', () => {
    const fit = fitMixed(mixedData(mixed.left_out));
    fit.beta.forEach((b, i) => {
      printed(b, mixed.beta[i]!, 6);
    });
    fit.variances.forEach(({ variance }, i) => {
      printed(variance, mixed.variances[i]!, 4);
    });
    printed(fit.residual, mixed.residual, 5);
    printed(fit.deviance, mixed.deviance, 7);
    const all = fit.test(ALL_CUPS);
    printed(all.f, mixed.f, 4);
    printed(all.df2, mixed.df2, 3);
    const one = fit.test([[0, 1, 0, 0]]);
    printed(one.f, mixed.f_first, 4);
    printed(one.df2, mixed.df_first, 3);
  });
  it('a random effect that is not there gets variance 0 and a large p', () => {
    const data = mixedData();
    const shuffled = {
      ...data,
      random: [...data.random, { name: 'day', group: data.y.map((_, i) => i % 2) }],
    };
    const fit = fitMixed(shuffled);
    expect(fit.variances[2]!.variance).toBeLessThan(1e-3);
    expect(testRandom(shuffled, 'day').p).toBeGreaterThan(0.2);
    expect(testRandom(data, 'taster × cup').p).toBeLessThan(1e-3);
  });
});

describe('severity and facets', () => {
  it('adding severity to a complete plan is undone, whatever is missing', () => {
    const cup = [7.5, 6.5, 8.25, 7.25];
    const judge = [-0.5, 0.25, 0.25];
    const scores = cup.flatMap((c, i) =>
      judge.flatMap((j, k) => ((i + k) % 4 === 3 ? [] : [{ cup: i, judge: k, score: c + j }])),
    );
    const found = additiveSeverity(scores)!;
    found.fair_means.forEach(({ value }, i) => {
      expect(value).toBeCloseTo(cup[i]!, 10);
    });
    found.judges.forEach(({ value }, k) => {
      expect(value).toBeCloseTo(judge[k]!, 10);
    });
    expect(found.residual_sd).toBeLessThan(1e-8);
    expect(found.raw_means[1]).not.toBeCloseTo(cup[1]!, 2);
  });
  it('a plan in two parts is refused, and its parts are named', () => {
    const scores = [
      { cup: 0, judge: 0, score: 7 },
      { cup: 1, judge: 0, score: 6 },
      { cup: 2, judge: 1, score: 8 },
    ];
    expect(additiveSeverity(scores)).toBeNull();
    expect(linkedGroups(scores)).toEqual([
      { cups: [0, 1], judges: [0] },
      { cups: [2], judges: [1] },
    ]);
    expect(additiveSeverity([...scores, { cup: 2, judge: 0, score: 7.5 }])).not.toBeNull();
  });
  it('passes of cups with judges, as a logistic regression (R)', () => {
    const found = facets(
      rasch.passes.flatMap((row, cup) =>
        row.map((passes, judge) => ({ cup, judge, passes, tries: rasch.tries })),
      ),
    );
    found.cups.forEach(({ value }, i) => {
      printed(value, rasch.cups[i]!, 4);
    });
    found.judges.forEach(({ value }, i) => {
      printed(value, rasch.judges[i]!, 4);
    });
    printed(found.deviance, rasch.deviance, 5);
    expect(found.extreme).toEqual({ cups: [], judges: [] });
  });
  it('a cup that always passes is flagged and stays finite', () => {
    const found = facets(
      [
        [10, 10],
        [4, 6],
      ].flatMap((row, cup) => row.map((passes, judge) => ({ cup, judge, passes, tries: 10 }))),
    );
    expect(found.extreme.cups).toEqual([0]);
    expect(found.cups[0]!.value).toBeGreaterThan(1);
    expect(found.cups[0]!.value).toBeLessThan(4);
  });
  it('a weighted total with correlated categories (computed)', () => {
    const of = totalScore(
      total.weights.map((weight, i) => ({ weight, mean: total.means[i]!, sd: total.sds[i]! })),
      total.correlation,
    );
    printed(of.mean, total.mean, 3);
    printed(of.sd, total.sd, 4);
    printed(chanceAbove(of, total.mark), total.chance, 4);
    expect(chanceAbove(of, total.mark, 4)).toBeGreaterThan(total.chance);
    expect(chanceAhead(of, of)).toBe(0.5);
    const stepped = totalScore([{ weight: 2, mean: 7, sd: 0, step: 0.25 }], 0);
    expect(stepped.sd).toBeCloseTo(0.5 / Math.sqrt(12), 12);
  });
});

describe('maps of words', () => {
  it('smokers by staff group, from memory of Greenacre 1984', () => {
    const found = correspondence(smokers.table)!;
    printed(found.inertia, smokers.total, 4);
    found.axes.forEach(({ inertia }, i) => {
      printed(inertia, smokers.inertias[i]!, 4);
    });
    for (const points of [found.cups, found.words])
      for (const [k] of found.axes.entries())
        expect(points.reduce((t, p) => t + p.contributions[k]!, 0)).toBeCloseTo(1, 10);
    // Coordinates have the mean 0 and the variance of the axis, both weighted by mass.
    expect(found.cups.reduce((t, p) => t + p.mass * p.at[0]! ** 2, 0)).toBeCloseTo(
      found.axes[0]!.inertia,
      12,
    );
    expect(found.cups.reduce((t, p) => t + p.mass * p.at[0]!, 0)).toBeCloseTo(0, 12);
  });
  it('more words than cups, empty ones set aside', () => {
    const found = correspondence([
      [3, 0, 2, 1, 0],
      [0, 4, 1, 0, 0],
      [0, 0, 0, 0, 0],
    ])!;
    expect(found.empty).toEqual({ cups: [2], words: [4] });
    expect(found.axes).toHaveLength(1);
    expect(
      correspondence([
        [1, 2],
        [0, 0],
      ]),
    ).toBeNull();
  });
  it('ballots that always fit the cup are no accident, ballots at random are', () => {
    const fitting = Array.from({ length: 6 }, () => [
      [1, 0],
      [0, 1],
      [1, 1],
    ]);
    expect(describedDifferently(fitting).p).toBeLessThan(0.01);
    const same = Array.from({ length: 6 }, () => [
      [1, 1],
      [1, 1],
      [1, 1],
    ]);
    expect(describedDifferently(same).p).toBe(1);
  });
});
