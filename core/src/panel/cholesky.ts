/**
 * Cholesky factor of a symmetric positive definite matrix: the lower triangle L of LL′, row by row; the upper half of the result is not used.
 * NaN where the matrix is not positive definite.
 * @param a [n][n], flat; not changed
 */
export function cholesky(a: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      l[i * n + j] = i === j ? Math.sqrt(sum) : sum / l[j * n + j]!;
    }
  return l;
}

/**
 * Solves LW = B in place.
 * @param b [n][m], flat; becomes W
 */
export function forward(l: Float64Array, n: number, b: Float64Array, m: number): Float64Array {
  for (let i = 0; i < n; i++)
    for (let c = 0; c < m; c++) {
      let sum = b[i * m + c]!;
      for (let k = 0; k < i; k++) sum -= l[i * n + k]! * b[k * m + c]!;
      b[i * m + c] = sum / l[i * n + i]!;
    }
  return b;
}

/** Solves L′x = b for one right side. */
export function backward(l: Float64Array, n: number, b: Float64Array): Float64Array {
  const x = Float64Array.from(b);
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * x[k]!;
    x[i] = sum / l[i * n + i]!;
  }
  return x;
}

/** ln of the determinant of LL′. */
export function logDeterminant(l: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += 2 * Math.log(l[i * n + i]!);
  return sum;
}

/** v′(LL′)⁻¹v, the quadratic form of the inverse. */
export function inverseForm(l: Float64Array, n: number, v: readonly number[]): number {
  const w = forward(l, n, Float64Array.from(v), 1);
  return w.reduce((t, x) => t + x * x, 0);
}
