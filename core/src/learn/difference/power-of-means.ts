import { logGamma, normalCdf } from '../../panel/distributions.ts';
import { findRoot } from '../../panel/optimise.ts';
import { integrate } from '../../panel/quadrature.ts';
import { tOf } from './estimate.ts';

/**
 * Chance that a two-sided test at `alpha` finds a true difference of `shift` standard errors. For an error estimated on `df` degrees of
 * freedom the statistic is a noncentral t; here as a mean of normal tails over the estimated error (exact up to quadrature).
 */
export function powerOfMeans(shift: number, df: number | null, alpha: number): number {
  const critical = tOf(1 - alpha / 2, df);
  if (df === null) return normalCdf(shift - critical) + normalCdf(-shift - critical);
  const logFront = Math.LN2 + (df / 2) * Math.log(df / 2) - logGamma(df / 2);
  // Density of the estimated over the true standard error.
  const density = (s: number) => Math.exp(logFront + (df - 1) * Math.log(s) - (df * s * s) / 2);
  const reach = 9 / Math.sqrt(2 * df);
  const found = integrate(
    (s) => density(s) * (normalCdf(shift - critical * s) + normalCdf(-shift - critical * s)),
    Math.max(1e-12, 1 - reach),
    1 + reach,
    24,
  );
  return Math.min(1, found);
}

/** True difference in standard errors that is found with a chance of `power`. */
export const shiftForPower = (power: number, df: number | null, alpha: number): number =>
  findRoot((shift) => powerOfMeans(shift, df, alpha) - power, 0, 2_000, 1e-9);
