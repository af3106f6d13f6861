/**
 * Solves A x = b by elimination with row exchange; `a` is [n × n] row by row, both are overwritten, `b` becomes x. Returns
 * false when A is singular to rounding. For the few unknowns of a plane or a background, nothing larger.
 */
export function solveSmall(a: Float64Array, b: Float64Array): boolean {
  const n = b.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    if (!(Math.abs(a[pivot * n + k]!) > 1e-300)) return false;
    if (pivot !== k) exchangeRows(a, b, n, pivot, k);
    for (let i = k + 1; i < n; i++) {
      const factor = a[i * n + k]! / a[k * n + k]!;
      if (factor === 0) continue;
      for (let j = k; j < n; j++) a[i * n + j]! -= factor * a[k * n + j]!;
      b[i]! -= factor * b[k]!;
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) b[k]! -= a[k * n + j]! * b[j]!;
    b[k]! /= a[k * n + k]!;
  }
  return b.every(Number.isFinite);
}

function exchangeRows(a: Float64Array, b: Float64Array, n: number, i: number, k: number): void {
  for (let j = 0; j < n; j++) [a[i * n + j], a[k * n + j]] = [a[k * n + j]!, a[i * n + j]!];
  [b[i], b[k]] = [b[k]!, b[i]!];
}

/** Least squares for rows a·x ≈ b with weights: x, or null when the rows do not fix it. */
export function fitRows(
  unknowns: number,
  rows: readonly { a: ArrayLike<number>; b: number; weight: number }[],
): Float64Array | null {
  const ata = new Float64Array(unknowns * unknowns);
  const atb = new Float64Array(unknowns);
  for (const { a, b, weight } of rows) {
    if (weight === 0) continue;
    for (let i = 0; i < unknowns; i++) {
      const wa = weight * a[i]!;
      atb[i]! += wa * b;
      for (let j = 0; j < unknowns; j++) ata[i * unknowns + j]! += wa * a[j]!;
    }
  }
  return solveSmall(ata, atb) ? atb : null;
}
