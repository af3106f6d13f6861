import erfc from '@stdlib/math-base-special-erfc';
import erfcinv from '@stdlib/math-base-special-erfcinv';
import gammaln from '@stdlib/math-base-special-gammaln';

/** Standard normal distribution function. */
export const normalCdf = (z: number): number => 0.5 * erfc(-z / Math.SQRT2);

/** Its inverse; ±Infinity at 0 and 1. */
export const normalQuantile = (p: number): number => -Math.SQRT2 * erfcinv(2 * p);

/** Standard normal density. */
export const normalDensity = (z: number): number => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);

/** Γ(x) for x > 0. */
export const gamma = (x: number): number => Math.exp(gammaln(x));
