/**
 * Factors a tridiagonal matrix (Thomas): row i reads `a[i]·x[i−1] + b[i]·x[i] + c[i]·x[i+1]`, i = 0…n−1; `a[0]` and
 * `c[n−1]` are not read. The reciprocal pivots go to `w`, of length n; one factor serves many right sides. Stable for the
 * diagonally dominant rows of a balance; no pivoting.
 */
export function factorTridiagonal(
  n: number,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  w: Float64Array,
): void {
  let pivot = 1 / b[0]!;
  w[0] = pivot;
  for (let i = 1; i < n; i++) {
    pivot = 1 / (b[i]! - a[i]! * c[i - 1]! * pivot);
    w[i] = pivot;
  }
}

/** Solves for one right side `d`, in place, with the pivots `w` of {@link factorTridiagonal}. */
export function backTridiagonal(
  n: number,
  a: Float64Array,
  c: Float64Array,
  d: Float64Array,
  w: Float64Array,
): void {
  let before = d[0]! * w[0]!;
  d[0] = before;
  for (let i = 1; i < n; i++) {
    before = (d[i]! - a[i]! * before) * w[i]!;
    d[i] = before;
  }
  for (let i = n - 2; i >= 0; i--) {
    before = d[i]! - c[i]! * w[i]! * before;
    d[i] = before;
  }
}
