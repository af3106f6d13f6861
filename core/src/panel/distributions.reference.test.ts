import { describe, expect, it } from 'vitest';
import examples from '../../../reference/panel-examples/examples.json' with { type: 'json' };
import * as d from './distributions.ts';
import { curvature, findPeak, findRoot } from './optimise.ts';
import { gaussLegendre, integrate } from './quadrature.ts';

const { special } = examples;

/** Relative to the expected value. */
const close = (found: number, expected: number, tolerance = 1e-11) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(tolerance * Math.abs(expected));

const CASES: Record<keyof typeof special, (...x: number[]) => number> = {
  binomial_at_least: (x, n, p) => d.binomialAtLeast(x!, n!, p!),
  binomial_at_most: (x, n, p) => d.binomialAtMost(x!, n!, p!),
  beta_quantile: (p, a, b) => d.betaQuantile(p!, a!, b!),
  chi_squared_above: (x, df) => d.chiSquaredAbove(x!, df!),
  f_above: (x, a, b) => d.fAbove(x!, a!, b!),
  t_quantile: (p, df) => d.tQuantile(p!, df!),
  normal_cdf: (x) => d.normalCdf(x!),
  normal_quantile: (p) => d.normalQuantile(p!),
};

describe('distributions, computed with SciPy 1.17.1', () => {
  for (const [name, rows] of Object.entries(special))
    it.each(rows.map((row) => [row]))(`${name} %j`, (row) => {
      // The median of Z is 0 and has no relative error.
      close(CASES[name as keyof typeof special](...row.slice(0, -1)), row.at(-1)!);
    });
  it('masses of a binomial add up to its tail', () => {
    let sum = 0;
    for (let x = 12; x <= 40; x++) sum += d.binomialMass(x, 40, 1 / 3);
    close(d.binomialAtLeast(12, 40, 1 / 3), sum, 1e-12);
    expect(d.binomialMass(0, 5, 0) + d.binomialMass(5, 5, 1)).toBe(2);
    expect(d.binomialMass(6, 5, 0.5) + d.binomialMass(-1, 5, 0.5)).toBe(0);
  });
  it('both tails of t add up to 1, and its quantile is its inverse', () => {
    for (const df of [1, 3.3, 12, 96]) {
      close(d.tAbove(-1.7, df) + d.tAbove(1.7, df), 1, 1e-14);
      close(d.tAbove(d.tQuantile(0.9, df), df), 0.1, 1e-11);
    }
    expect(d.tQuantile(0.5, 4)).toBe(0);
  });
});

describe('numerical parts', () => {
  it('32 points are exact for a polynomial of degree 63', () => {
    const { nodes, weights } = gaussLegendre(32);
    const sum = nodes.reduce((t, x, i) => t + weights[i]! * x ** 62, 0);
    close(sum, 2 / 63, 1e-12);
  });
  it('integrates the normal density to 1', () => close(integrate(d.normalDensity, -9, 9, 8), 1, 1e-14));
  it('finds roots and peaks', () => {
    close(
      findRoot((x) => Math.exp(x) - 3, -50, 60),
      Math.log(3),
      1e-12,
    );
    close(
      findPeak((x) => -((x - 2) ** 2), -10, 7),
      2,
      1e-7,
    );
    expect(findRoot((x) => x * x + 1, -1, 3)).toBe(-1);
  });
  it('finds second derivatives', () => {
    const [[a, b], [, c]] = curvature((x) => x[0]! ** 2 * x[1]! + Math.exp(x[1]!), [1, 2]) as [
      [number, number],
      [number, number],
    ];
    close(a, 4, 1e-6);
    close(b, 2, 1e-6);
    close(c, Math.exp(2), 1e-6);
  });
});
