/**
 * Solves a tridiagonal system by elimination (Thomas), in place on `d`. Row i reads
 * `a[i]·x[i−1] + b[i]·x[i] + c[i]·x[i+1] = d[i]`, i = 0…n−1; `a[0]` and `c[n−1]` are not read. `w` is scratch of
 * length n. Stable for the diagonally dominant rows of a balance; no pivoting.
 */
export function solveTridiagonal(
  n: number,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  d: Float64Array,
  w: Float64Array,
): void {
  factorTridiagonal(n, a, b, c, w);
  backTridiagonal(n, a, c, d, w);
}

/** First half of {@link solveTridiagonal}: the reciprocal pivots go to `w`. One factor serves many right sides. */
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

/** Second half of {@link solveTridiagonal}: solves for one right side `d`, in place. */
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
