import { cholesky, logDeterminant } from '../../panel/cholesky.ts';
import { leastSquares, leverage } from './least-squares.ts';
import { modelMatrix } from './model.ts';
import type { DesignQuality, ModelTerm } from './types.ts';

/** ln |X′X|; −∞ where the terms cannot be told apart. */
export function logInformation(x: readonly (readonly number[])[]): number {
  const p = x[0]!.length;
  const gram = new Float64Array(p * p);
  for (const row of x)
    for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) gram[i * p + j]! += row[i]! * row[j]!;
  const value = logDeterminant(cholesky(gram, p), p);
  return Number.isFinite(value) ? value : Number.NEGATIVE_INFINITY;
}

/**
 * How well points tell the terms of a model: D, A and G by their usual definitions, I as the mean prediction variance over the box (or
 * over the points, for models without a constant).
 */
export function designQuality(
  points: readonly (readonly number[])[],
  terms: readonly ModelTerm[],
): DesignQuality {
  const x = modelMatrix(terms, points);
  const [n, p] = [x.length, terms.length];
  const fit = leastSquares(x, new Array<number>(n).fill(0));
  if (!fit)
    return {
      runs: n,
      terms: p,
      d_efficiency: 0,
      a_value: Number.POSITIVE_INFINITY,
      g_efficiency: 0,
      i_value: Number.POSITIVE_INFINITY,
    };
  const { inverse } = fit;
  const trace = inverse.reduce((t, row, i) => t + row[i]!, 0);
  const largest = Math.max(...x.map((row) => leverage(inverse, row)));
  const moments = terms.map((a) => terms.map((b) => moment(a, b, terms, points)));
  const mean = inverse.reduce((t, row, i) => t + row.reduce((s, v, j) => s + v * moments[i]![j]!, 0), 0);
  return {
    runs: n,
    terms: p,
    d_efficiency: Math.exp(logInformation(x) / p) / n,
    a_value: (n * trace) / p,
    g_efficiency: p / (n * largest),
    i_value: n * mean,
  };
}

/** Mean of the product of two terms over the box −1…1; of a mixture, over its points. */
function moment(
  a: ModelTerm,
  b: ModelTerm,
  terms: readonly ModelTerm[],
  points: readonly (readonly number[])[],
): number {
  const constant = terms.some((term) => term.every((p) => p === 0));
  const powers = a.map((p, i) => p + b[i]!);
  if (!constant)
    return points.reduce((t, at) => t + powers.reduce((v, p, i) => v * at[i]! ** p, 1), 0) / points.length;
  return powers.reduce((v, p) => (p % 2 === 1 ? 0 : v / (p + 1)), 1);
}
