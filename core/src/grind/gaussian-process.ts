import type { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { conditionProcess, covarianceMatrix, crossMatrix, predictProcess } from '../learn/next/process.ts';

/** Where on a grinder something is measured or asked: position on the dial from the zero point, beans [°C], coffee ground [kg]. */
export interface Place {
  position: number;
  beans_C: number;
  burrs_kg: number;
}

/** Prior of the straight part: standard deviations of ln D per unit of each, and the slopes that are expected. */
export interface LinearPrior {
  level: number;
  perPosition: number;
  perPositionMean: number;
  perKelvin: number;
  perKelvinMean: number;
  perKg: number;
  /** Where the straight part is pinned. */
  centre: Place;
}

/** One choice of the free scales of the process. */
export interface Scales {
  /** Standard deviation of the bends around a straight line, in ln D. */
  bend: number;
  /** Over how much of the dial a bend reaches. */
  reach: number;
  /** Standard deviation from grind to grind, in ln D, beside each measurement's own doubt. */
  repeat: number;
}

/** The process conditioned on the measurements with one choice of scales. */
export interface Conditioned {
  scales: Scales;
  /** Weight among all choices: they sum to 1. */
  weight: number;
  factor: CholeskyDecomposition;
}

/** What the prior expects of ln D at a place, beside its level. */
export const expectedShift = (
  place: Place,
  { perPositionMean, perKelvinMean, centre }: LinearPrior,
): number =>
  perPositionMean * (place.position - centre.position) + perKelvinMean * (place.beans_C - centre.beans_C);

/** Covariance of ln D between two places. */
function covariance(a: Place, b: Place, prior: LinearPrior, { bend, reach }: Scales): number {
  const { centre } = prior;
  const apart = (a.position - b.position) / reach;
  return (
    prior.level ** 2 +
    prior.perPosition ** 2 * (a.position - centre.position) * (b.position - centre.position) +
    prior.perKelvin ** 2 * (a.beans_C - centre.beans_C) * (b.beans_C - centre.beans_C) +
    prior.perKg ** 2 * (a.burrs_kg - centre.burrs_kg) * (b.burrs_kg - centre.burrs_kg) +
    bend ** 2 * Math.exp(-0.5 * apart * apart)
  );
}

/**
 * Gaussian-process regression (Rasmussen & Williams 2006, algorithm 2.1, from memory) for every choice of scales; each is weighted
 * by how well it explains the measurements. `y` is ln D less what the prior expects; `doubt` its standard uncertainty.
 */
export function condition(
  places: readonly Place[],
  y: readonly number[],
  doubt: readonly number[],
  prior: LinearPrior,
  choices: readonly Scales[],
): Conditioned[] {
  const found = choices.flatMap((scales) => {
    const K = covarianceMatrix(places, (a, b) => covariance(a, b, prior, scales));
    doubt.forEach((u, i) => {
      K.set(i, i, K.get(i, i) + u ** 2 + scales.repeat ** 2 + 1e-10);
    });
    const one = conditionProcess(K, y);
    return one ? [{ scales, factor: one.factor, log: one.log }] : [];
  });
  const best = Math.max(...found.map(({ log }) => log));
  // Choices a hundred times worse than the best change nothing that is shown.
  const kept = found.filter(({ log }) => log > best - Math.log(100));
  const total = kept.reduce((sum, { log }) => sum + Math.exp(log - best), 0);
  return kept.map(({ scales, factor, log }) => ({ scales, factor, weight: Math.exp(log - best) / total }));
}

/**
 * What the measurements say about places: `weights` [measurement][place] gives the mean of any output as Σ weight·(y − expected), and
 * `spread` [place][place] is the covariance of the curve there.
 */
export function predict(
  conditioned: Conditioned,
  places: readonly Place[],
  at: readonly Place[],
  prior: LinearPrior,
): { weights: Matrix; spread: Matrix } {
  const { scales, factor } = conditioned;
  const kernel = (a: Place, b: Place) => covariance(a, b, prior, scales);
  return predictProcess({ factor }, crossMatrix(places, at, kernel), covarianceMatrix(at, kernel));
}
