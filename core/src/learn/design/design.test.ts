import { describe, expect, it } from 'vitest';
import { aliasesOf, product, subgroup } from './aliases.ts';
import { analyseDesign, codedLevel, correlation, realLevel } from './analyse-design.ts';
import { designChoices } from './choices.ts';
import { dOptimal } from './d-optimal.ts';
import { bestGenerators, corners, fractionalFactorial, fullFactorial } from './factorial.ts';
import { lenth } from './lenth.ts';
import { extremeVertices, fromPseudo, mixtureLattice, toPseudo } from './mixture.ts';
import { termsOf } from './model.ts';
import { boxBehnken } from './response-surface.ts';
import { makeRunSheet } from './run-sheet.ts';

const factors = [
  { name: 'grind', unit: 'marks', low: 18, high: 22, step: 0.5 },
  { name: 'temperature', unit: '°C', low: 88, high: 96, step: 1 },
  { name: 'dose', unit: 'g', low: 15, high: 17, step: 0.1 },
];
const options = {
  model: 'main' as const,
  figure: { name: 'score', unit: 'points', decimals: 1 },
  aim: { by: 'most' as const },
  alpha: 0.05,
};
const codes = (of: { findings: readonly { code: string }[] }) => of.findings.map(({ code }) => code);
const sheet = { seed: 3, per_day: null, dose_g: 16.5, against_drift: true, model: 'main' as const };

describe('aliases', () => {
  it('multiply by leaving out what stands twice', () => {
    expect(product([0, 1], [1, 2])).toEqual([0, 2]);
    expect(
      subgroup([
        [0, 1, 3],
        [1, 2, 4],
      ]),
    ).toEqual([
      [0, 1, 3],
      [1, 2, 4],
      [0, 2, 3, 4],
    ]);
  });
  it('a half of three factors confuses each with the product of the others', () => {
    const design = fractionalFactorial(2, [[0, 1]]);
    expect(design).toMatchObject({ resolution: 3, words: [[0, 1, 2]] });
    expect(design.aliases).toEqual([
      [[0], [1, 2]],
      [[1], [0, 2]],
      [[2], [0, 1]],
    ]);
  });
  it('are what the columns of the runs say', () => {
    const design = fractionalFactorial(4, bestGenerators(6, 4)!);
    const column = (effect: readonly number[]) =>
      design.points.map((row) => effect.reduce((t, factor) => t * row[factor]!, 1));
    for (const set of aliasesOf(6, design.words))
      for (const other of set.slice(1))
        expect(Math.abs(correlation(column(set[0]!), column(other)))).toBeCloseTo(1, 12);
  });
  it.each([
    [4, 3, 4],
    [5, 4, 5],
    [5, 3, 3],
    [6, 5, 6],
    [6, 4, 4],
    [7, 4, 4],
    [8, 4, 4],
  ])('%i factors in 2^%i runs reach resolution %i (tables in use, from memory)', (k, basic, resolution) => {
    expect(fractionalFactorial(basic, bestGenerators(k, basic)!).resolution).toBe(resolution);
  });
});

describe('run sheets', () => {
  it('are the same for the same seed, hold every run once, and can be set', () => {
    const design = fullFactorial(3, 2);
    const made = makeRunSheet(design, factors, sheet);
    expect(made).toEqual(makeRunSheet(design, factors, sheet));
    expect(made.runs.map(({ point }) => point).sort((a, b) => a - b)).toEqual(design.points.map((_, i) => i));
    expect(made.grams).toBeCloseTo(165, 9);
    for (const { levels } of made.runs) expect(levels[0]! * 2).toBe(Math.round(levels[0]! * 2));
  });
  it('another seed draws another order', () => {
    const order = (seed: number) =>
      makeRunSheet(fullFactorial(3), factors, { ...sheet, seed, against_drift: false })
        .runs.map(({ point }) => point)
        .join();
    expect(new Set([1, 2, 3, 4, 5].map(order)).size).toBeGreaterThan(3);
  });
  it('two days of a cube leave main effects clear of the days', () => {
    const made = makeRunSheet(fullFactorial(3), factors, { ...sheet, per_day: 4 });
    expect(made.blocks).toBe(2);
    expect(made.block_correlation).toBeCloseTo(0, 9);
    expect(codes(made)).toContain('blocks_clear');
  });
  it('against a drift: no main effect shares more than a fifth with the order', () => {
    for (const seed of [1, 2, 3])
      expect(makeRunSheet(fullFactorial(3, 2), factors, { ...sheet, seed }).drift_correlation).toBeLessThan(
        0.2,
      );
  });
  it('says when steps are too coarse for the levels', () => {
    const coarse = [{ ...factors[0]!, low: 20, high: 20.5, step: 1 }, ...factors.slice(1)];
    expect(codes(makeRunSheet(boxBehnken(3), coarse, sheet))).toContain('step_too_coarse');
  });
});

describe('choices', () => {
  it('offers from four brews on, each with what it cannot tell', () => {
    const found = designChoices(factors, { most_runs: 20, dose_g: 16.5 });
    expect(found[0]).toMatchObject({ runs: 7, model: 'main', bends: false });
    expect(found[0]!.findings.map(({ sentence }) => sentence).join(' ')).toContain(
      'grind = temperature × dose',
    );
    for (const { runs, grams } of found) expect(grams).toBeCloseTo(runs * 16.5, 9);
    expect(Math.max(...found.map(({ runs }) => runs))).toBeLessThanOrEqual(20);
  });
});

describe('D-optimal sets', () => {
  it('keep what was brewed and build around it', () => {
    const kept = [
      [0, 0],
      [1, 1],
    ];
    const found = dOptimal(corners(2), { runs: 5, terms: termsOf('main', 2), seed: 1, kept })!;
    expect(found.points.slice(0, 2)).toEqual(kept);
    expect(dOptimal(corners(2), { runs: 2, terms: termsOf('main', 2), seed: 1 })).toBeNull();
  });
});

describe('mixtures', () => {
  it('pseudo-components go there and back', () => {
    const low = [0.1, 0.2, 0.05];
    for (const shares of mixtureLattice(3, 2).points) {
      const real = fromPseudo(shares, low);
      expect(real.reduce((t, v) => t + v, 0)).toBeCloseTo(1, 12);
      for (const [i, v] of toPseudo(real, low).entries()) expect(v).toBeCloseTo(shares[i]!, 12);
    }
  });
  it('vertices between bounds: the square of two free shares', () => {
    expect(extremeVertices([0.2, 0.1], [0.9, 0.8])).toEqual(
      [
        [0.9, 0.1],
        [0.2, 0.8],
        [0.55, 0.45],
      ].map((r) => r.map((v) => expect.closeTo(v, 9))),
    );
    expect(extremeVertices([0.6, 0.6], [0.9, 0.9])).toEqual([]);
  });
});

describe('what a set taught', () => {
  const real = (coded: readonly number[]) => coded.map((v, i) => realLevel(factors[i]!, v));
  const results = (points: readonly (readonly number[])[], f: (coded: readonly number[]) => number) =>
    points.map((coded) => ({ levels: real(coded), value: f(coded) }));
  it('levels go to codes and back', () => {
    expect(codedLevel(factors[0]!, 21)).toBe(0.5);
    expect(realLevel(factors[0]!, 0.5)).toBe(21);
  });
  it('finds lines exactly where there is no scatter, in the factors own units', () => {
    const found = analyseDesign(
      factors,
      results(fullFactorial(3, 1).points, ([g, t]) => 80 + 2 * g! - t!),
      options,
    );
    if (!found.ok) throw new Error('not analysed');
    expect(found.value.effects.map(({ effect }) => Math.round(effect * 1e6) / 1e6 + 0)).toEqual([4, -2, 0]);
    expect(found.value.best!.levels[0]).toBeCloseTo(22, 6);
    expect(found.value.best!.levels[1]).toBeCloseTo(88, 6);
    expect(codes(found.value)).toContain('best_edge');
  });
  it('a day that shifts everything costs nothing', () => {
    const { points } = fullFactorial(3);
    const shifted = points.map((coded, i) => {
      // The three-factor product parts the days.
      const day = coded[0]! * coded[1]! * coded[2]!;
      return { levels: real(coded), value: 80 + coded[0]! + 5 * day + 0.01 * (i % 3), block: day };
    });
    const found = analyseDesign(factors, shifted, options);
    if (!found.ok) throw new Error('not analysed');
    expect(found.value.effects[0]!.effect).toBeCloseTo(2, 1);
    expect(found.value.coefficients[1]!.p!).toBeLessThan(0.001);
  });
  it('names with an effect what these brews cannot tell from it', () => {
    const { points } = fractionalFactorial(2, [[0, 1]], 3);
    const found = analyseDesign(
      factors,
      results(points, ([g, , d]) => 80 + 3 * g! + 0.05 * d!),
      options,
    );
    if (!found.ok) throw new Error('not analysed');
    expect(found.value.effects[0]!.aliases).toEqual(['temperature × dose']);
  });
  it('claims nothing where every brew is used up and effects are too few', () => {
    const found = analyseDesign(
      factors,
      results(fractionalFactorial(2, [[0, 1]]).points, ([g]) => 80 + 9 * g!),
      options,
    );
    if (!found.ok) throw new Error('not analysed');
    expect(found.value.findings.filter(({ firmness }) => firmness === 'clear')).toEqual([]);
    expect(found.value.findings[0]).toMatchObject({ firmness: 'cannot', code: 'saturated_few' });
  });
  it('refuses a model with more terms than brews', () => {
    const few = results(
      fullFactorial(2).points.map((row) => [...row, 0]),
      () => 1,
    ).slice(0, 3);
    const found = analyseDesign(factors, few, { ...options, model: 'quadratic' });
    // What cannot be told apart is left out first; nothing of it is claimed.
    if (found.ok) expect(found.value.findings.filter(({ firmness }) => firmness === 'clear')).toEqual([]);
    else expect(codes(found)).toEqual(['no_fit']);
  });
  it('Lenth needs five effects, and stays silent on equal ones', () => {
    expect(lenth([1, 2, 3, 4])).toBeNull();
    const test = lenth([1, -1, 1, 1, -1, 1, 1])!;
    expect(test.pse).toBeCloseTo(1.5, 12);
    expect(test.margin).toBeGreaterThan(1);
  });
});
