import { describe, expect, it } from 'vitest';
import examples from '../../../../reference/designed-sets/examples.json' with { type: 'json' };
import anova from '../../../../reference/nist-strd/anova.json' with { type: 'json' };
import linear from '../../../../reference/nist-strd/linear.json' with { type: 'json' };
import { type AnalyseDesignOptions, analyseDesign } from './analyse-design.ts';
import { canonicalAnalysis } from './canonical.ts';
import { dOptimal, grid } from './d-optimal.ts';
import { definitiveScreening } from './definitive-screening.ts';
import { fractionalFactorial, fullFactorial, screening12 } from './factorial.ts';
import { fitDesign } from './fit-design.ts';
import { leastSquares, leverage } from './least-squares.ts';
import { mixtureLattice } from './mixture.ts';
import { modelMatrix, termsOf } from './model.ts';
import { oneWay } from './one-way.ts';
import { designQuality, logInformation } from './quality.ts';
import { boxBehnken, centralComposite } from './response-surface.ts';
import type { DesignAnalysis, ModelTerm } from './types.ts';

const { ceramic, catapult, surface, d_optimal, yarn } = examples;

/** Equal to a figure printed with so many decimals. */
const printed = (found: number, expected: number, decimals: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);
/** Correct significant digits, −log10 of the relative error. */
const digits = (found: number, certified: number) =>
  found === certified
    ? 16
    : -Math.log10(Math.abs(found - certified) / (certified === 0 ? 1 : Math.abs(certified)));

const coded = (names: readonly string[]) =>
  names.map((name) => ({ name, unit: '', low: -1, high: 1, step: null }));
/** A term from "0,2,3": places of factors that are multiplied. */
const term = (text: string, k: number): ModelTerm => {
  const powers = new Array<number>(k).fill(0);
  if (text !== '') for (const i of text.split(',')) powers[Number(i)]!++;
  return powers;
};
const options: AnalyseDesignOptions = {
  model: 'main',
  figure: { name: 'value', unit: '', decimals: 2 },
  aim: { by: 'most' },
  alpha: 0.05,
};
function analysed(
  names: readonly string[],
  results: Parameters<typeof analyseDesign>[1],
  more: Partial<AnalyseDesignOptions>,
): DesignAnalysis {
  const found = analyseDesign(coded(names), results, { ...options, ...more });
  if (!found.ok) throw new Error(found.findings[0]!.sentence);
  return found.value;
}

describe('least squares, against the certified values of NIST StRD', () => {
  const polynomial = (x: readonly number[], degree: number) =>
    x.map((v) => Array.from({ length: degree + 1 }, (_, p) => v ** p));
  it.each([
    ['Norris', linear.Norris, 11],
    ['Pontius', linear.Pontius, 11],
    ['Wampler1', linear.Wampler1, 9],
    ['Wampler2', linear.Wampler2, 12],
    ['Wampler3', linear.Wampler3, 9],
    ['Wampler4', linear.Wampler4, 7],
    ['Wampler5', linear.Wampler5, 6],
    // Eleven terms of x from −9 to −3, the hardest of the set.
    ['Filip', linear.Filip, 6],
  ] as const)('%s', (_, { x, y, degree, b, se }, least) => {
    const fit = leastSquares(polynomial(x, degree), y)!;
    for (const [i, certified] of b.entries()) expect(digits(fit.beta[i]!, certified)).toBeGreaterThan(least);
    const s2 = fit.rss / fit.df;
    for (const [i, certified] of se.entries())
      if (certified > 0) expect(digits(Math.sqrt(s2 * fit.inverse[i]![i]!), certified)).toBeGreaterThan(6);
  });
  it('Longley', () => {
    const { rows, y, b, se, s } = linear.Longley;
    const fit = leastSquares(
      rows.map((row) => [1, ...row]),
      y,
    )!;
    for (const [i, certified] of b.entries()) expect(digits(fit.beta[i]!, certified)).toBeGreaterThan(10);
    for (const [i, certified] of se.entries())
      expect(digits(Math.sqrt((fit.rss / fit.df) * fit.inverse[i]![i]!), certified)).toBeGreaterThan(9);
    expect(digits(Math.sqrt(fit.rss / fit.df), s)).toBeGreaterThan(11);
  });
});

describe('one-way analysis of variance, against the certified values of NIST StRD', () => {
  it.each([
    ['SiRstv', anova.SiRstv, 12],
    ['AtmWtAg', anova.AtmWtAg, 8],
    ['SmLs01', anova.SmLs01, 13],
    ['SmLs04', anova.SmLs04, 9],
  ] as const)('%s', (_, certified, least) => {
    const found = oneWay(certified.groups);
    expect(found.between.df).toBe(certified.between.df);
    expect(found.within.df).toBe(certified.within.df);
    expect(digits(found.between.ss, certified.between.ss)).toBeGreaterThan(least);
    expect(digits(found.within.ss, certified.within.ss)).toBeGreaterThan(least);
    expect(digits(found.f, certified.f)).toBeGreaterThan(least);
    expect(digits(found.r2, certified.r2)).toBeGreaterThan(least);
    expect(digits(found.s, certified.s)).toBeGreaterThan(least);
  });
  it('SmLs07, thirteen leading digits in common: as near to F = 21 as the rounded figures themselves are', () => {
    const { groups, f } = anova.SmLs07;
    const found = oneWay(groups);
    expect(digits(found.f, f)).toBeGreaterThan(3);
    // The same rounded figures with the common 10¹² taken off exactly (a difference of doubles this close is exact).
    const exact = oneWay(groups.map((group) => group.map((v) => v - 1e12)));
    expect(digits(found.f, exact.f)).toBeGreaterThan(10);
  });
});

describe('ceramic strength, a full factorial (NIST-HB 5.4.7.1)', () => {
  const { points } = fullFactorial(5);
  const results = points.map((levels, i) => ({ levels, value: ceramic.strength[i]! }));
  it('fits 25 terms', () => {
    const terms = ['', ...ceramic.ss26.map(([text]) => String(text))].map((text) => term(text, 5));
    const { table, effects, coefficients } = analysed(ceramic.factors, results, { model: terms });
    printed(coefficients[0]!.value, ceramic.mean, 4);
    printed(table.s!, ceramic.rmse26, 5);
    printed(table.r2, ceramic.r2_26, 6);
    printed(table.adjusted_r2!, ceramic.adjusted_26, 6);
    expect(effects.length).toBe(25);
    for (const [i, [, ss]] of ceramic.ss26.entries()) printed(effects[i]!.ss, Number(ss), 2);
  });
  it('fits the 12 terms that are kept', () => {
    const terms = ['', ...ceramic.kept12].map((text) => term(text, 5));
    const { table, coefficients, effects } = analysed(ceramic.factors, results, { model: terms });
    printed(table.s!, ceramic.rmse12, 5);
    printed(table.r2, ceramic.r2_12, 6);
    printed(table.adjusted_r2!, ceramic.adjusted_12, 6);
    for (const [i, f] of ceramic.f12.entries()) // Strengths on the page are rounded to 0.01, which shows in the eighth digit of the largest F.
      expect(Math.abs(coefficients[i + 1]!.t! ** 2 - f)).toBeLessThanOrEqual(Math.max(0.5001e-4, 2e-7 * f));
    for (const [name, effect] of Object.entries(ceramic.effects))
      printed(effects.find((one) => one.name === name)!.effect, effect, 3);
  });
  it('fits the transformed strength', () => {
    const { lambda, terms, estimates, rmse, r2, adjusted } = ceramic.transformed;
    // Scaled by the geometric mean, so that sums of squares compare.
    const geometric = Math.exp(ceramic.strength.reduce((t, v) => t + Math.log(v), 0) / 32);
    const values = results.map(({ levels, value }) => ({
      levels,
      value: (value ** lambda - 1) / (lambda * geometric ** (lambda - 1)),
    }));
    const { table, coefficients } = analysed(ceramic.factors, values, {
      model: terms.map((text) => term(text, 5)),
    });
    for (const [i, estimate] of estimates.entries()) {
      // The page prints products of two with the other sign than its data give; lines and the product of three agree.
      const sign = (terms[i] ?? '').split(',').length === 2 ? -1 : 1;
      // One in the last place: the strengths on the page are rounded.
      expect(Math.abs(coefficients[i]!.value - sign * estimate)).toBeLessThanOrEqual(0.001);
    }
    printed(table.s!, rmse, 5);
    printed(table.r2, r2, 5);
    printed(table.adjusted_r2!, adjusted, 6);
  });
  it('Lenth finds direction and batch with all 31 effects estimated', () => {
    const every = Array.from({ length: 32 }, (_, mask) =>
      Array.from({ length: 5 }, (_, i) => (mask >> i) & 1),
    );
    const { lenth, effects, findings } = analysed(ceramic.factors, results, { model: every });
    expect(lenth!.df).toBeCloseTo(31 / 3, 12);
    const outstanding = effects.filter(({ effect }) => Math.abs(effect) > lenth!.simultaneous);
    expect(outstanding.map(({ name }) => name)).toEqual(['direction', 'batch']);
    expect(
      effects.filter(({ effect }) => Math.abs(effect) > lenth!.margin).map(({ name }) => name),
    ).toContain('grit');
    expect(findings[0]!.code).toBe('saturated');
  });
});

describe('catapult, half a factorial with centre runs (NIST-HB 5.4.7.2)', () => {
  const results = catapult.rows.map(([value, ...levels]) => ({ levels, value: value! }));
  it('fits all lines and products', () => {
    const { coefficients, table } = analysed(catapult.factors, results, { model: 'interactions' });
    for (const [i, estimate] of catapult.full.estimates.entries())
      printed(coefficients[i]!.value, estimate, 4);
    for (const [i, se] of catapult.full.se.entries()) printed(coefficients[i]!.se!, se, 4);
    printed(table.s!, catapult.full.s, 2);
    printed(table.r2, catapult.full.r2, 4);
    printed(table.adjusted_r2!, catapult.full.adjusted, 4);
    printed(table.f!.f, catapult.full.f, 3);
    printed(table.f!.p, catapult.full.p, 5);
  });
  it('tests the smaller model for lack of fit', () => {
    const { terms, ...expected } = catapult.reduced;
    const { table } = analysed(catapult.factors, results, { model: terms.map((text) => term(text, 5)) });
    printed(table.regression.ss, expected.ss_model, 2);
    printed(table.residual.ss, expected.ss_error, 2);
    // Printed 22.77, cut off, not rounded, from 22.7759.
    expect(Math.floor(table.f!.f * 100) / 100).toBe(expected.f);
    printed(table.lack_of_fit!.ss, expected.ss_lack, 2);
    expect(table.lack_of_fit!.df).toBe(expected.df_lack);
    printed(table.pure!.ss, expected.ss_pure, 2);
    printed(table.lack_of_fit!.f, expected.f_lack, 2);
    printed(table.lack_of_fit!.p, expected.p_lack, 4);
    printed(table.s!, expected.s, 2);
    printed(table.r2, expected.r2, 4);
  });
  it('is the half fraction of resolution V', () => {
    const design = fractionalFactorial(4, [[0, 1, 2, 3]]);
    expect(design.resolution).toBe(5);
    const cube = results.filter(({ levels }) => levels[0] !== 0).map(({ levels }) => levels.join());
    // The sign of the word is the other one than ours.
    const mirrored = design.points.map((row) => row.map((v, i) => (i === 4 ? -v : v)).join());
    const same = [design.points.map((row) => row.join()), mirrored].some((rows) =>
      cube.every((row) => rows.includes(row)),
    );
    expect(same).toBe(true);
  });
});

describe('response surface (NIST-HB 5.4.7.3)', () => {
  const names = ['P', 'H'];
  const of = (values: readonly number[]) =>
    surface.points.map((levels, i) => ({ levels, value: values[i]! }));
  const check = (
    found: DesignAnalysis,
    expected: { b: number[]; se?: number[]; s: number; r2: number },
    [bDigits, sDigits]: [number, number],
  ) => {
    for (const [i, b] of expected.b.entries()) printed(found.coefficients[i]!.value, b, bDigits);
    for (const [i, se] of (expected.se ?? []).entries()) printed(found.coefficients[i]!.se!, se, bDigits);
    printed(found.table.s!, expected.s, sDigits);
  };
  it('uniformity, full', () => {
    const found = analysed(names, of(surface.uniformity), { model: 'quadratic' });
    check(found, surface.uniformity_full, [5, 4]);
    printed(found.table.r2, surface.uniformity_full.r2, 4);
    printed(found.table.f!.f, surface.uniformity_full.f, 3);
  });
  it('uniformity, reduced, with lack of fit', () => {
    const expected = surface.uniformity_reduced;
    const found = analysed(names, of(surface.uniformity), { model: 'interactions' });
    check(found, expected, [4, 4]);
    printed(found.table.r2, expected.r2, 4);
    printed(found.table.lack_of_fit!.f, expected.f_lack, 2);
    printed(found.table.lack_of_fit!.p, expected.p_lack, 4);
    printed(found.table.lack_of_fit!.ss, expected.ss_lack, 4);
    expect(found.table.lack_of_fit!.df).toBe(expected.df_lack);
    printed(found.table.pure!.ss, expected.ss_pure, 4);
  });
  it('stress, reduced', () => {
    const terms = [
      [0, 0],
      [1, 0],
      [0, 1],
      [2, 0],
    ];
    const found = analysed(names, of(surface.stress), { model: terms });
    check(found, surface.stress_reduced, [5, 4]);
    printed(found.table.r2, surface.stress_reduced.r2, 4);
  });
  it('stress, full, as computed from the data (the printed table does not come from them)', () => {
    const found = analysed(names, of(surface.stress), { model: 'quadratic' });
    check(found, surface.stress_full_computed, [5, 5]);
    printed(found.table.r2, surface.stress_full_computed.r2, 5);
    expect(found.canonical!.shape).toBe('maximum');
    expect(found.canonical!.eigenvalues.every((v) => v < 0)).toBe(true);
  });
  it('canonical analysis of a known surface', () => {
    // 10 − 2(x − 0.3)² − (y + 0.2)²: flat at (0.3, −0.2), value 10, curvatures −2 and −1.
    const terms = termsOf('quadratic', 2);
    const found = canonicalAnalysis(terms, [10 - 0.18 - 0.04, 1.2, -0.4, 0, -2, -1])!;
    expect(found.stationary[0]).toBeCloseTo(0.3, 12);
    expect(found.stationary[1]).toBeCloseTo(-0.2, 12);
    expect(found.value).toBeCloseTo(10, 12);
    expect(found.eigenvalues[0]).toBeCloseTo(-2, 12);
    expect(found).toMatchObject({ shape: 'maximum', inside: true });
  });
});

describe('designs, against published ones', () => {
  const gramOf = (points: readonly (readonly number[])[]) => {
    const k = points[0]!.length;
    return Array.from({ length: k }, (_, i) =>
      Array.from({ length: k }, (_, j) => points.reduce((t, row) => t + row[i]! * row[j]!, 0)),
    );
  };
  const isDiagonal = (gram: readonly (readonly number[])[], value: number) =>
    gram.forEach((row, i) => {
      row.forEach((v, j) => {
        expect(Math.abs(v - (i === j ? value : 0))).toBeLessThan(1e-9);
      });
    });
  it('rotatable star points: √2, 1.682, 2.000, 2.378, 2.378, 2.828 (NIST-HB 5.3.3.6.1)', () => {
    printed(centralComposite(2).alpha!, Math.SQRT2, 12);
    printed(centralComposite(3).alpha!, 1.682, 3);
    printed(centralComposite(4).alpha!, 2, 3);
    // From five factors on the cube is a part of resolution V.
    printed(centralComposite(5).alpha!, 2, 3);
    printed(centralComposite(6).alpha!, 2.378, 3);
    printed(128 ** 0.25, 3.364, 3);
    printed(64 ** 0.25, 2.828, 3);
  });
  it('a rotatable design predicts equally well at equal distance', () => {
    const terms = termsOf('quadratic', 3);
    const { inverse } = leastSquares(modelMatrix(terms, centralComposite(3).points), new Array(18).fill(0))!;
    const at = (x: number[]) => leverage(inverse, modelMatrix(terms, [x])[0]!);
    const side = 1 / Math.sqrt(3);
    expect(at([side, side, -side])).toBeCloseTo(at([0, 1, 0]), 10);
  });
  it('inscribed and faced designs stay on the cube', () => {
    for (const kind of ['inscribed', 'faced'] as const)
      expect(Math.max(...centralComposite(3, kind).points.flat().map(Math.abs))).toBeCloseTo(1, 12);
    expect(centralComposite(3, 'circumscribed', 6).points.length).toBe(20);
  });
  it('Box–Behnken: 15 runs for three factors, prediction variance as computed', () => {
    const design = boxBehnken(3);
    expect(design.points.length).toBe(15);
    const terms = termsOf('quadratic', 3);
    const { inverse } = leastSquares(modelMatrix(terms, design.points), new Array(15).fill(0))!;
    for (const [at, variance] of examples.box_behnken_variance)
      printed(leverage(inverse, modelMatrix(terms, [at as number[]])[0]!), variance as number, 4);
    expect(boxBehnken(4, 3).points.length).toBe(27);
    expect(boxBehnken(5, 6).points.length).toBe(46);
  });
  it('the 12-run screening design is orthogonal', () => isDiagonal(gramOf(screening12(11).points), 12));
  it.each([4, 6, 8])(
    'definitive screening of %i factors: main effects (2k − 2)I, clear of squares and products',
    (k) => {
      const { points } = definitiveScreening(k);
      expect(points.length).toBe(2 * k + 1);
      isDiagonal(gramOf(points), 2 * k - 2);
      for (let a = 0; a < k; a++)
        for (let b = 0; b < k; b++)
          for (let c = b; c < k; c++)
            expect(points.reduce((t, row) => t + row[a]! * row[b]! * row[c]!, 0)).toBe(0);
    },
  );
  it.each([3, 5, 7, 9, 11])('definitive screening of %i factors, columns of the next larger one', (k) => {
    const { points } = definitiveScreening(k);
    const gram = gramOf(points);
    isDiagonal(gram, gram[0]![0]!);
  });
  it('D-optimal: 12 of 20 candidates, D 0.6825575 (NIST-HB 5.5.2.1)', () => {
    const terms = [
      [0, 0, 0],
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [2, 0, 0],
    ];
    const candidates = grid([
      [-1, -0.5, 0, 0.5, 1],
      [-1, 1],
      [-1, 1],
    ]);
    const design = dOptimal(candidates, { runs: 12, terms, seed: 1 })!;
    const quality = designQuality(design.points, terms);
    printed(quality.d_efficiency, d_optimal.d, 7);
    printed(quality.a_value, d_optimal.a, 10);
    printed(quality.g_efficiency, d_optimal.g, 10);
    const x = modelMatrix(terms, design.points);
    expect(Math.exp(logInformation(x))).toBeCloseTo(d_optimal.determinant, 5);
    const { inverse } = leastSquares(x, new Array(12).fill(0))!;
    for (const row of x) printed(Math.sqrt(leverage(inverse, row)), d_optimal.se, 6);
    expect(new Set(design.points.map((row) => row.join())).size).toBe(12);
    expect([...new Set(design.points.map(([x1]) => x1))].sort()).toEqual([-1, 0, 1]);
  });
  it('simplex lattices have (q + m − 1)!/(m!(q − 1)!) points (NIST-HB 5.5.4.2)', () => {
    expect(mixtureLattice(3, 3).points.length).toBe(10);
    expect(mixtureLattice(3, 2).points.length).toBe(6);
    expect(mixtureLattice(4, 3).points.length).toBe(20);
    for (const row of mixtureLattice(4, 3).points) expect(row.reduce((a, b) => a + b)).toBeCloseTo(1, 12);
  });
});

describe('yarn, a mixture (NIST-HB 5.5.4.2)', () => {
  const results = yarn.rows.map((row) => ({ levels: row.slice(0, 3), value: row[3]! }));
  const found = analysed(['x1', 'x2', 'x3'], results, { model: 'mixture_quadratic' });
  it('fits the quadratic without a constant', () => {
    for (const [i, b] of yarn.b.entries()) printed(found.coefficients[i]!.value, b, 6);
    for (const [i, se] of yarn.se.entries()) printed(found.coefficients[i]!.se!, se, 6);
    printed(found.table.s!, yarn.s, 5);
    printed(found.table.r2, yarn.r2, 6);
    printed(found.table.adjusted_r2!, yarn.adjusted, 6);
  });
  it('finds the best mixture on the edge of the first and third', () => {
    printed(found.best!.levels[0]!, yarn.best_x1, 5);
    expect(found.best!.levels[1]).toBeCloseTo(0, 9);
    printed(found.best!.value, yarn.best, 5);
  });
  it('an ordinary quadratic in all shares cannot be fitted, and what is left out is said', () => {
    const runs = results.map(({ levels, value }) => ({ at: levels, value, block: null }));
    expect(fitDesign(runs, termsOf('quadratic', 3), ['a', 'b', 'c'])!.dropped.length).toBe(4);
  });
});
