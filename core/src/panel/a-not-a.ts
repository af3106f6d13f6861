import type { ConfidenceInterval } from './d-prime.ts';
import { normalCdf, normalDensity, normalQuantile } from './distributions.ts';
import { fisherAtLeast } from './fisher.ts';
import { findPeak, findRoot } from './optimise.ts';

/** Answers "this is A" to cups that were A and to cups that were not. ISO 8588 (from memory). */
export interface YesAnswers {
  /** "A" said of A, and how often A was served. */
  hits: number;
  of_a: number;
  /** "A" said of the other, and how often that was served. */
  false_alarms: number;
  of_other: number;
}

/** Result of an A–not-A test. */
export interface ANotA {
  d_prime: number;
  se: number;
  wald: ConfidenceInterval;
  profile: ConfidenceInterval;
  /** Exact chance of as many hits or more when both cups are alike; Fisher, one-sided. */
  p: number;
  /** Area under the curve of hits over false alarms: chance that A is perceived as more A than the other. */
  area: number;
  /** True when a share was 0 or 1 and ½ was added to every cell, for d′, its error and both intervals. */
  adjusted: boolean;
}

/**
 * d′ = Φ⁻¹(hits) − Φ⁻¹(false alarms) with its delta-method error, Wald and profile-likelihood intervals, and Fisher's exact
 * p. A share of 0 or 1 has no finite d′: then ½ is added to each cell (log-linear rule) and the result says so.
 */
export function aNotA(answers: YesAnswers, level = 0.95): ANotA {
  const { hits, of_a, false_alarms, of_other } = answers;
  const edge = hits === 0 || hits === of_a || false_alarms === 0 || false_alarms === of_other;
  const add = edge ? 0.5 : 0;
  const [x1, n1, x2, n2] = [hits + add, of_a + 2 * add, false_alarms + add, of_other + 2 * add];
  const [z1, z2] = [normalQuantile(x1 / n1), normalQuantile(x2 / n2)];
  const d = z1 - z2;
  const se = Math.sqrt(variance(x1, n1, z1) + variance(x2, n2, z2));
  const z = -normalQuantile((1 - level) / 2);
  return {
    d_prime: d,
    se,
    wald: { low: d - z * se, high: d + z * se },
    profile: profileInterval(x1, n1, x2, n2, d, z, se),
    p: fisherAtLeast(hits, of_a, false_alarms, of_other),
    area: normalCdf(d / Math.SQRT2),
    adjusted: edge,
  };
}

const variance = (x: number, n: number, z: number): number =>
  ((x / n) * (1 - x / n)) / (n * normalDensity(z) ** 2);

/** d′ whose best likelihood, over all borders between "A" and "not A", is not much below the largest. */
function profileInterval(
  x1: number,
  n1: number,
  x2: number,
  n2: number,
  d: number,
  z: number,
  se: number,
): ConfidenceInterval {
  const likelihood = (border: number, at: number) =>
    x1 * Math.log(normalCdf(border + at)) +
    (n1 - x1) * Math.log(normalCdf(-border - at)) +
    x2 * Math.log(normalCdf(border)) +
    (n2 - x2) * Math.log(normalCdf(-border));
  const best = (at: number) => {
    const middle = normalQuantile(x2 / n2);
    const peak = findPeak(
      (b) => likelihood(b, at),
      middle - 4 - Math.abs(at - d),
      middle + 4 + Math.abs(at - d),
    );
    return likelihood(peak, at);
  };
  const top = best(d);
  const drop = (at: number) => top - best(at) - (z * z) / 2;
  return {
    low: findRoot(drop, d - 2 * z * se, d, 1e-9),
    high: findRoot(drop, d, d + 2 * z * se, 1e-9),
  };
}
