import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/** A Gaussian process conditioned on values with normal errors. */
export interface ConditionedProcess {
  factor: CholeskyDecomposition;
  /** (K + noise)⁻¹ (y − expected). */
  alpha: number[];
  /** ln of the density of the values: the evidence. */
  log: number;
}

/**
 * Conditions a process (Rasmussen & Williams 2006, algorithm 2.1, from memory); null where the covariance is not positive definite.
 * @param covariance [n][n] of the values, their errors included
 * @param y values less what was expected of them
 */
export function conditionProcess(covariance: Matrix, y: readonly number[]): ConditionedProcess | null {
  const factor = new CholeskyDecomposition(covariance);
  if (!factor.isPositiveDefinite()) return null;
  const alpha = factor.solve(Matrix.columnVector([...y])).to1DArray();
  const fit = y.reduce((sum, v, i) => sum + v * alpha[i]!, 0);
  const size = factor.lowerTriangularMatrix.diagonal().reduce((sum, d) => sum + Math.log(d), 0);
  return { factor, alpha, log: -0.5 * fit - size - 0.5 * y.length * Math.log(2 * Math.PI) };
}

/**
 * What the values say elsewhere: `weights` [value][place] gives the mean of any output as Σ weight·(y − expected), `spread` [place][place]
 * is the covariance left.
 * @param cross covariance between values (rows) and places (columns)
 * @param own covariance among the places
 */
export function predictProcess(
  { factor }: Pick<ConditionedProcess, 'factor'>,
  cross: Matrix,
  own: Matrix,
): { weights: Matrix; spread: Matrix } {
  const weights = factor.solve(cross);
  const explained = cross.transpose().mmul(weights);
  const spread = new Matrix(own.rows, own.columns);
  // Mirrored, because rounding would leave it not quite symmetric.
  for (let i = 0; i < own.rows; i++)
    for (let j = 0; j <= i; j++) {
      const left = own.get(i, j) - explained.get(i, j);
      spread.set(i, j, left);
      spread.set(j, i, left);
    }
  return { weights, spread };
}

/** A symmetric matrix from one function of two places. */
export function covarianceMatrix<T>(places: readonly T[], of: (a: T, b: T) => number): Matrix {
  const K = new Matrix(places.length, places.length);
  for (let i = 0; i < places.length; i++)
    for (let j = 0; j <= i; j++) {
      const shared = of(places[i]!, places[j]!);
      K.set(i, j, shared);
      K.set(j, i, shared);
    }
  return K;
}

/** Covariances between places (rows) and others (columns). */
export function crossMatrix<T>(
  rows: readonly T[],
  columns: readonly T[],
  of: (a: T, b: T) => number,
): Matrix {
  const cross = new Matrix(rows.length, columns.length);
  rows.forEach((a, i) => {
    columns.forEach((b, j) => {
      cross.set(i, j, of(a, b));
    });
  });
  return cross;
}

/** Correlation at a distance counted in reaches: the smooth squared exponential. */
export const squaredExponential = (distance: number): number => Math.exp(-0.5 * distance * distance);

/** Correlation at a distance counted in reaches: Matérn with 5/2, twice differentiable (from memory). */
export const matern52 = (distance: number): number => {
  const r = Math.sqrt(5) * distance;
  return (1 + r + (r * r) / 3) * Math.exp(-r);
};
