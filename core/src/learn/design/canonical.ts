import { EigenvalueDecomposition, Matrix, solve } from 'ml-matrix';
import { orderOf } from './model.ts';
import type { CanonicalAnalysis, ModelTerm } from './types.ts';

/** A curvature below this part of the largest is flat: a ridge; our choice. */
const FLAT = 0.05;

/**
 * Where a fitted quadratic is flat (x = −½ B⁻¹ b), what it is there, and how it bends: eigenvalues of B all negative make a maximum, all
 * positive a minimum, else a saddle. NIST-HB 5.5.3.2. null without squares of every factor, or with B singular.
 */
export function canonicalAnalysis(
  terms: readonly ModelTerm[],
  beta: readonly number[],
): CanonicalAnalysis | null {
  const k = terms[0]?.length ?? 0;
  if (terms.some((term) => orderOf(term) > 2)) return null;
  const constant = terms.findIndex((term) => orderOf(term) === 0);
  const squares = terms.filter((term) => term.includes(2)).length;
  if (constant < 0 || squares === 0) return null;
  const b = new Array<number>(k).fill(0);
  const bends = Matrix.zeros(k, k);
  terms.forEach((term, t) => {
    const at = term.flatMap((power, i) => new Array<number>(power).fill(i));
    if (at.length === 1) b[at[0]!] = beta[t]!;
    if (at.length !== 2) return;
    const [i, j] = [at[0]!, at[1]!];
    if (i === j) bends.set(i, i, beta[t]!);
    else {
      bends.set(i, j, beta[t]! / 2);
      bends.set(j, i, beta[t]! / 2);
    }
  });
  const evd = new EigenvalueDecomposition(bends, { assumeSymmetric: true });
  const order = evd.realEigenvalues
    .map((_, i) => i)
    .sort((x, y) => evd.realEigenvalues[x]! - evd.realEigenvalues[y]!);
  const eigenvalues = order.map((i) => evd.realEigenvalues[i]!);
  const largest = Math.max(...eigenvalues.map(Math.abs));
  if (largest === 0 || Math.min(...eigenvalues.map(Math.abs)) < 1e-12 * largest) return null;
  const stationary = solve(bends, Matrix.columnVector(b.map((v) => -v / 2))).to1DArray();
  const value = beta[constant]! + b.reduce((t, v, i) => t + (v * stationary[i]!) / 2, 0);
  return {
    stationary,
    value,
    eigenvalues,
    directions: order.map((i) => evd.eigenvectorMatrix.getColumn(i)),
    shape: shapeOf(eigenvalues, largest),
    inside: stationary.every((v) => Math.abs(v) <= 1),
  };
}

function shapeOf(eigenvalues: readonly number[], largest: number): CanonicalAnalysis['shape'] {
  const up = eigenvalues.some((v) => v > FLAT * largest);
  const down = eigenvalues.some((v) => v < -FLAT * largest);
  if (up && down) return 'saddle';
  if (eigenvalues.some((v) => Math.abs(v) <= FLAT * largest)) return 'ridge';
  return up ? 'minimum' : 'maximum';
}
