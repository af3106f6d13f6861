import erfc from '@stdlib/math-base-special-erfc';
import erfcinv from '@stdlib/math-base-special-erfcinv';
import gammaln from '@stdlib/math-base-special-gammaln';
import { findRoot } from './optimise.ts';

/** Density of the standard normal distribution. */
export const normalDensity = (x: number): number => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);

/** P(Z ≤ x) of a standard normal Z; relative accuracy also far in the lower tail. */
export const normalCdf = (x: number): number => 0.5 * erfc(-x * Math.SQRT1_2);

/** The x with P(Z ≤ x) = p; −∞ at 0 and ∞ at 1. */
export const normalQuantile = (p: number): number => -Math.SQRT2 * erfcinv(2 * p);

/** ln Γ(x) for x > 0. */
export const logGamma = (x: number): number => gammaln(x);

/** ln B(a, b) for a, b > 0. */
export const logBeta = (a: number, b: number): number => gammaln(a) + gammaln(b) - gammaln(a + b);

/** ln of the number of ways to choose k of n. */
export const logChoose = (n: number, k: number): number => -Math.log1p(n) - logBeta(k + 1, n - k + 1);

/** P(X ≤ x) of a beta distribution with shapes a, b > 0. */
export const betaCdf = (x: number, a: number, b: number): number => incompleteBeta(x, a, b, false);

/** The x with P(X ≤ x) = p of a beta distribution with shapes a, b > 0. */
export function betaQuantile(p: number, a: number, b: number): number {
  if (p <= 0) return 0;
  if (p >= 1) return 1;
  // On the logit scale both ends are far away and the curve is even.
  const at = (logit: number) => 1 / (1 + Math.exp(-logit));
  const upper = p > 0.5;
  const wanted = Math.log(upper ? 1 - p : p);
  return at(findRoot((t) => Math.log(incompleteBeta(at(t), a, b, upper)) - wanted, -700, 36));
}

/** Steps after which the continued fraction has converged for every a, b up to a million. */
const MOST_STEPS = 20_000;

/** Regularised incomplete beta function, or its complement. */
function incompleteBeta(x: number, a: number, b: number, upper: boolean): number {
  if (x <= 0) return upper ? 1 : 0;
  if (x >= 1) return upper ? 0 : 1;
  // The fraction converges quickly below the mean; above it, from the other side.
  if (x > (a + 1) / (a + b + 2)) return incompleteBetaBelow(1 - x, b, a, !upper);
  return incompleteBetaBelow(x, a, b, upper);
}

function incompleteBetaBelow(x: number, a: number, b: number, upper: boolean): number {
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b)) / a;
  const lower = front * betaFraction(x, a, b);
  return upper ? 1 - lower : lower;
}

/** The continued fraction of the incomplete beta function by Lentz's method; Abramowitz & Stegun 26.5.8 (from memory). */
function betaFraction(x: number, a: number, b: number): number {
  const nonZero = (v: number) => (Math.abs(v) < 1e-300 ? 1e-300 : v);
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < MOST_STEPS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    value *= d * c;
    if (Math.abs(d * c - 1) < 4e-16) break;
  }
  return value;
}

/** P(X = x) in n trials that each succeed with probability p. */
export function binomialMass(x: number, n: number, p: number): number {
  if (x < 0 || x > n) return 0;
  if (p <= 0) return x === 0 ? 1 : 0;
  if (p >= 1) return x === n ? 1 : 0;
  return Math.exp(logChoose(n, x) + x * Math.log(p) + (n - x) * Math.log1p(-p));
}

/** P(X ≥ x) in n trials that each succeed with probability p. */
export const binomialAtLeast = (x: number, n: number, p: number): number =>
  x <= 0 ? 1 : x > n ? 0 : incompleteBeta(p, x, n - x + 1, false);

/** P(X ≤ x) in n trials that each succeed with probability p. */
export const binomialAtMost = (x: number, n: number, p: number): number =>
  x < 0 ? 0 : x >= n ? 1 : incompleteBeta(p, x + 1, n - x, true);

/**
 * P(X > x) of a χ² variable with a whole number of degrees of freedom: a finite sum from e^(−x/2) (even) or erfc√(x/2) (odd);
 * Abramowitz & Stegun 26.4.4–5 (from memory).
 */
export function chiSquaredAbove(x: number, df: number): number {
  if (x <= 0) return 1;
  const odd = df % 2 === 1;
  let sum = odd ? erfc(Math.sqrt(x / 2)) : Math.exp(-x / 2);
  let term = odd ? 2 * Math.sqrt(x) * normalDensity(Math.sqrt(x)) : Math.exp(-x / 2) * (x / 2);
  for (let k = odd ? 3 : 4; k <= df; k += 2) {
    sum += term;
    term *= x / k;
  }
  return Math.min(1, sum);
}

/** P(F > x) of an F variable with df1 and df2 degrees of freedom. */
export const fAbove = (x: number, df1: number, df2: number): number =>
  x <= 0
    ? 1
    : x === Number.POSITIVE_INFINITY
      ? 0
      : incompleteBeta(df2 / (df2 + df1 * x), df2 / 2, df1 / 2, false);

/** P(T > x) of Student's t with df degrees of freedom. */
export function tAbove(x: number, df: number): number {
  const tail = 0.5 * incompleteBeta(df / (df + x * x), df / 2, 0.5, false);
  return x >= 0 ? tail : 1 - tail;
}

/** The x with P(T ≤ x) = p of Student's t with df degrees of freedom. */
export function tQuantile(p: number, df: number): number {
  if (p === 0.5) return 0;
  const tail = Math.log(Math.min(p, 1 - p));
  // P(T > e^u) falls from ½ to 0 as u runs over the line.
  const u = findRoot((v) => Math.log(tAbove(Math.exp(v), df)) - tail, -40, 300);
  return Math.sign(p - 0.5) * Math.exp(u);
}

/** Mean, standard deviation and shapes of a beta distribution after `successes` of `trials`, from a prior a, b. */
export function betaAfter(successes: number, trials: number, prior: { a: number; b: number }) {
  const a = prior.a + successes;
  const b = prior.b + trials - successes;
  const mean = a / (a + b);
  return { a, b, mean, sd: Math.sqrt((mean * (1 - mean)) / (a + b + 1)) };
}
