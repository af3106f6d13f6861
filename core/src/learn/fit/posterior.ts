import { cholesky } from '../../panel/cholesky.ts';
import { diceFrom } from '../chance.ts';
import { type Ensemble, ensemble } from './ensemble.ts';
import { climbDamped } from './levenberg.ts';
import { inverseOf } from './linear.ts';
import type { Target } from './target.ts';

/** The best point of a posterior and the quadratic around it. */
export interface Best {
  z: Float64Array;
  value: number;
  /** Expected (Fisher) curvature there, [K × K], and its inverse. */
  curvature: Float64Array;
  covariance: Float64Array;
  steps: number;
}

/** Climbs to the best point. */
export function climbTo(target: Target, start: ArrayLike<number>, tolerance = 1e-8): Best {
  const { x, value, curvature, steps } = climbDamped(target.surface(), start, { steps: 100, tolerance });
  return { z: x, value, curvature, covariance: inverseOf(curvature, target.size), steps };
}

/** Step of second differences in standard units. */
const STEP = 1e-3;

/**
 * Covariance of the quadratic (Laplace) answer: minus the second derivatives at the best point, inverted. Where these are not
 * positive definite the expected curvature stands in, which always is.
 */
export function laplaceOf(target: Target, best: Best): Float64Array {
  const n = target.size;
  const surface = target.surface();
  const [up, down] = [new Float64Array(n), new Float64Array(n)];
  const unused = new Float64Array(n * n);
  const hessian = new Float64Array(n * n);
  const moved = best.z.slice();
  for (let k = 0; k < n; k++) {
    moved[k] = best.z[k]! + STEP;
    surface(moved, up, unused);
    moved[k] = best.z[k]! - STEP;
    surface(moved, down, unused);
    moved[k] = best.z[k]!;
    for (let l = 0; l < n; l++) hessian[k * n + l] = (down[l]! - up[l]!) / (2 * STEP);
  }
  const symmetric = hessian.map((v, i) => (v + hessian[(i % n) * n + Math.floor(i / n)]!) / 2);
  const inverse = inverseOf(symmetric, n);
  return inverse.every(Number.isFinite) ? inverse : best.covariance;
}

/** Points of a normal about `mean`, wide by `wider` times its covariance's root. */
export function normalPoints(
  mean: ArrayLike<number>,
  covariance: Float64Array,
  count: number,
  seed: number,
  wider = 1,
): Float64Array[] {
  const n = mean.length;
  const factor = cholesky(covariance, n);
  const dice = diceFrom(seed);
  return Array.from({ length: count }, () => {
    const e = Float64Array.from({ length: n }, () => dice.normal() * wider);
    return Float64Array.from({ length: n }, (_, i) => {
      let x = mean[i]!;
      for (let k = 0; k <= i; k++) x += factor[i * n + k]! * e[k]!;
      return x;
    });
  });
}

/** How much is drawn. */
export interface Effort {
  burn: number;
  most: number;
  effective: number;
  thin: number;
}

/** What a fit for a person takes. */
export const FULL_EFFORT: Effort = { burn: 400, most: 3_000, effective: 600, thin: 5 };

/** Draws from a posterior with an ensemble that starts from its quadratic answer. */
export const drawFrom = (
  target: Target,
  best: ArrayLike<number>,
  laplace: Float64Array,
  seed: number,
  effort: Effort = FULL_EFFORT,
): Generator<number, Ensemble, void> => {
  const walkers = 2 * Math.max(16, target.size + 4);
  const start = normalPoints(best, laplace, walkers, seed);
  return ensemble(
    (z) => target.value(z),
    start,
    { mean: best, covariance: laplace },
    { walkers, seed: seed + 1, ...effort },
  );
};

/** `count` positions of an ensemble, spread over all its steps and walkers. */
export function spreadDraws({ kept, count, walkers, size }: Ensemble, wanted: number): Float64Array[] {
  const all = count * walkers;
  const n = Math.min(wanted, all);
  return Array.from({ length: n }, (_, i) => {
    const at = Math.floor(((i + 0.5) * all) / n);
    return kept.slice(at * size, (at + 1) * size);
  });
}
