import { normalCdf, normalDensity } from '../../panel/distributions.ts';

/** Terms of the continued fraction; enough for every z below −1. */
const TERMS = 400;

/** ln(φ(z) + zΦ(z)), without losing digits far below the best; the continued fraction of Mills' ratio (Abramowitz & Stegun 26.2.14, from memory). */
export function logImprovement(z: number): number {
  if (z > -1) return Math.log(normalDensity(z) + z * normalCdf(z));
  const x = -z;
  let rest = 0;
  for (let k = TERMS; k >= 2; k--) rest = k / (x + rest);
  const c = 1 / (x + rest);
  // Mills' ratio is 1/(x + c), so 1 − x·ratio is c/(x + c): nothing cancels.
  return -0.5 * z * z - 0.5 * Math.log(2 * Math.PI) + Math.log(c / (x + c));
}

/** E max(d, 0) of a normal d with a mean and a standard deviation. */
export function positivePart(mean: number, sd: number): number {
  if (sd <= 0) return Math.max(mean, 0);
  const z = mean / sd;
  return z < -1 ? sd * Math.exp(logImprovement(z)) : sd * (normalDensity(z) + z * normalCdf(z));
}

/** Expected improvement over `best` (to be made larger) by more than `margin`; Jones, Schonlau & Welch 1998 (from memory). */
export const expectedImprovement = (mean: number, sd: number, best: number, margin = 0): number =>
  positivePart(mean - best - margin, sd);

/** Chance of an improvement. */
export const improvementChance = (mean: number, sd: number, best: number): number =>
  sd > 0 ? normalCdf((mean - best) / sd) : mean > best ? 1 : 0;

/** Expected improvement, less what noise makes of it: × (1 − τ/√(s² + τ²)); Huang et al. 2006 (from memory). */
export const augmentedImprovement = (mean: number, sd: number, best: number, noise: number): number =>
  expectedImprovement(mean, sd, best) * (1 - noise / Math.hypot(sd, noise));

/**
 * Expected gain over an incumbent whose own level is not known exactly either: E max(f(x) − f(b), 0) over their joint normal; Letham et al. 2019
 * with one incumbent (from memory).
 */
export const noisyImprovement = (
  candidate: { mean: number; sd: number },
  incumbent: { mean: number; sd: number },
  covariance: number,
): number =>
  positivePart(
    candidate.mean - incumbent.mean,
    Math.sqrt(Math.max(0, candidate.sd ** 2 + incumbent.sd ** 2 - 2 * covariance)),
  );

/** Expected gain in nearness to a target: E max(d − |v|, 0) for v normal about `away` from the target and the best so far at distance d. */
export const targetImprovement = (away: number, sd: number, distance: number): number =>
  positivePart(away + distance, sd) - 2 * positivePart(away, sd) + positivePart(away - distance, sd);

/** E|v| of a normal v. */
export const expectedDistance = (away: number, sd: number): number => 2 * positivePart(away, sd) - away;
