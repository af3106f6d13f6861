import { cholesky, forward, logDeterminant } from '../../panel/cholesky.ts';

/**
 * Inverse of a symmetric positive definite matrix [n × n], row by row; NaN where it is none. Works with a unit diagonal, so that
 * unknowns of very different size do not matter.
 */
export function inverseOf(a: Float64Array, n: number): Float64Array {
  const root = Float64Array.from({ length: n }, (_, k) => Math.sqrt(a[k * n + k]!));
  const scaled = a.map((v, i) => v / (root[Math.floor(i / n)]! * root[i % n]!));
  const factor = cholesky(scaled, n);
  const identity = new Float64Array(n * n);
  for (let k = 0; k < n; k++) identity[k * n + k] = 1;
  const half = forward(factor, n, identity, n);
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < n; k++) sum += half[k * n + i]! * half[k * n + j]!;
      out[i * n + j] = out[j * n + i] = sum / (root[i]! * root[j]!);
    }
  return out;
}

/** ln of the determinant of a symmetric positive definite matrix; NaN where it is none. */
export const logDeterminantOf = (a: Float64Array, n: number): number => logDeterminant(cholesky(a, n), n);

/** Mean [n] and covariance [n × n] of points. */
export function momentsOf(
  points: readonly ArrayLike<number>[],
  n: number,
): { mean: Float64Array; covariance: Float64Array } {
  const mean = new Float64Array(n);
  for (const p of points) for (let k = 0; k < n; k++) mean[k] = mean[k]! + p[k]! / points.length;
  const covariance = new Float64Array(n * n);
  const over = Math.max(1, points.length - 1);
  for (const p of points)
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++)
        covariance[i * n + j] = covariance[i * n + j]! + ((p[i]! - mean[i]!) * (p[j]! - mean[j]!)) / over;
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) covariance[j * n + i] = covariance[i * n + j]!;
  return { mean, covariance };
}

/** Quantile of rising values by linear interpolation (type 7); NaN of none. */
export function quantileOf(sorted: ArrayLike<number>, at: number): number {
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  const x = at * (n - 1);
  const k = Math.floor(x);
  const next = sorted[Math.min(k + 1, n - 1)]!;
  return sorted[k]! + (x - k) * (next - sorted[k]!);
}

/** 5, 50 and 95 % of values; those that are not finite are left out. */
export function bandOf(values: ArrayLike<number>): { low: number; mid: number; high: number } {
  const sorted = Float64Array.from(values).filter(Number.isFinite).sort();
  return { low: quantileOf(sorted, 0.05), mid: quantileOf(sorted, 0.5), high: quantileOf(sorted, 0.95) };
}
