import { CholeskyDecomposition, Matrix } from 'ml-matrix';

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
    const n = places.length;
    const K = new Matrix(n, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) {
        const shared = covariance(places[i]!, places[j]!, prior, scales);
        K.set(i, j, shared);
        K.set(j, i, shared);
      }
      const own = covariance(places[i]!, places[i]!, prior, scales);
      K.set(i, i, own + doubt[i]! ** 2 + scales.repeat ** 2 + 1e-10);
    }
    const factor = new CholeskyDecomposition(K);
    if (!factor.isPositiveDefinite()) return [];
    const alpha = factor.solve(Matrix.columnVector([...y])).to1DArray();
    const fit = y.reduce((sum, v, i) => sum + v * alpha[i]!, 0);
    const size = factor.lowerTriangularMatrix.diagonal().reduce((sum, d) => sum + Math.log(d), 0);
    return [{ scales, factor, log: -0.5 * fit - size }];
  });
  const best = Math.max(...found.map(({ log }) => log));
  // Choices a hundred times worse than the best change nothing that is shown.
  const kept = found.filter(({ log }) => log > best - Math.log(100));
  const total = kept.reduce((sum, { log }) => sum + Math.exp(log - best), 0);
  return kept.map(({ scales, factor, log }) => ({ scales, factor, weight: Math.exp(log - best) / total }));
}

/** Covariances between measurements (rows) and places (columns). */
function crossed(places: readonly Place[], at: readonly Place[], prior: LinearPrior, scales: Scales): Matrix {
  const cross = new Matrix(places.length, at.length);
  places.forEach((p, i) => {
    at.forEach((q, j) => {
      cross.set(i, j, covariance(p, q, prior, scales));
    });
  });
  return cross;
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
  const cross = crossed(places, at, prior, scales);
  const weights = factor.solve(cross);
  const spread = new Matrix(at.length, at.length);
  const explained = cross.transpose().mmul(weights);
  for (let i = 0; i < at.length; i++)
    for (let j = 0; j <= i; j++) {
      const left = covariance(at[i]!, at[j]!, prior, scales) - explained.get(i, j);
      spread.set(i, j, left);
      spread.set(j, i, left);
    }
  return { weights, spread };
}
