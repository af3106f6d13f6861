import { Matrix, QrDecomposition } from 'ml-matrix';

/** A straight fit y = Xβ by least squares. */
export interface LeastSquares {
  beta: number[];
  /** (X′X)⁻¹, [p][p]: times the error variance it is the covariance of β. */
  inverse: number[][];
  fitted: number[];
  residuals: number[];
  rss: number;
  df: number;
}

/** A column that others make up to this part of its length cannot be told apart from them. */
const SAME = 1e-12;

/**
 * Least squares by Householder QR of columns scaled to one length, with one round of refinement; null when columns cannot be told
 * apart or there are more of them than rows.
 * @param x [n][p]
 * @param y [n]
 */
export function leastSquares(x: readonly (readonly number[])[], y: readonly number[]): LeastSquares | null {
  const n = x.length;
  const p = x[0]?.length ?? 0;
  if (n < p || p === 0) return null;
  const size = Array.from({ length: p }, (_, c) => Math.hypot(...x.map((row) => row[c]!)));
  if (size.some((s) => s === 0)) return null;
  const qr = new QrDecomposition(new Matrix(x.map((row) => row.map((v, c) => v / size[c]!))));
  const r = qr.upperTriangularMatrix;
  if (r.diagonal().some((d) => Math.abs(d) < SAME)) return null;
  const solve = (of: readonly number[]) =>
    qr
      .solve(Matrix.columnVector([...of]))
      .to1DArray()
      .map((v, c) => v / size[c]!);
  const at = (beta: readonly number[]) => x.map((row) => row.reduce((t, v, c) => t + v * beta[c]!, 0));
  const first = solve(y);
  const rest = at(first).map((v, i) => y[i]! - v);
  const beta = solve(rest).map((v, c) => first[c]! + v);
  const fitted = at(beta);
  const residuals = fitted.map((v, i) => y[i]! - v);
  return {
    beta,
    inverse: inverseOf(r, size),
    fitted,
    residuals,
    rss: residuals.reduce((t, v) => t + v * v, 0),
    df: n - p,
  };
}

/** (X′X)⁻¹ = R⁻¹R⁻ᵀ, scaled back. */
function inverseOf(r: Matrix, size: readonly number[]): number[][] {
  const p = size.length;
  const back = Matrix.zeros(p, p);
  for (let c = 0; c < p; c++)
    for (let i = c; i >= 0; i--) {
      let sum = i === c ? 1 : 0;
      for (let k = i + 1; k <= c; k++) sum -= r.get(i, k) * back.get(k, c);
      back.set(i, c, sum / r.get(i, i));
    }
  const whole = back.mmul(back.transpose()).to2DArray();
  return whole.map((row, i) => row.map((v, j) => v / (size[i]! * size[j]!)));
}

/** Variance of the fitted mean at a row of the model, over the error variance: x′(X′X)⁻¹x. */
export function leverage(inverse: readonly (readonly number[])[], row: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < row.length; i++)
    for (let j = 0; j < row.length; j++) sum += row[i]! * inverse[i]![j]! * row[j]!;
  return sum;
}

/** Share of a column's variation that other columns (a constant among them) explain: 1 when it cannot be told apart. */
export function explainedBy(column: readonly number[], others: readonly (readonly number[])[]): number {
  const mean = column.reduce((t, v) => t + v, 0) / column.length;
  const total = column.reduce((t, v) => t + (v - mean) ** 2, 0);
  if (total < 1e-18) return 1;
  const kept = independent(others);
  if (kept.length === 0) return 0;
  const fit = leastSquares(
    column.map((_, i) => kept.map((other) => other[i]!)),
    column,
  );
  return fit === null ? 1 : Math.min(1, Math.max(0, 1 - fit.rss / total));
}

/** Columns that are not made up of those before them. */
export function independent(columns: readonly (readonly number[])[]): (readonly number[])[] {
  const kept: (readonly number[])[] = [];
  const basis: number[][] = [];
  for (const column of columns) {
    const left = [...column];
    // Twice, so that rounding leaves nothing of the earlier ones.
    for (let pass = 0; pass < 2; pass++)
      for (const unit of basis) {
        const shared = left.reduce((t, v, i) => t + v * unit[i]!, 0);
        unit.forEach((u, i) => {
          left[i]! -= shared * u;
        });
      }
    const length = Math.hypot(...left);
    if (length <= 1e-9 * Math.hypot(...column)) continue;
    basis.push(left.map((v) => v / length));
    kept.push(column);
  }
  return kept;
}
