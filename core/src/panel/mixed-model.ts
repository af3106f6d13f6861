import {
  CholeskyDecomposition,
  EigenvalueDecomposition,
  inverse,
  Matrix,
  SingularValueDecomposition,
} from 'ml-matrix';
import { chiSquaredAbove, fAbove } from './distributions.ts';
import { climb, curvature } from './optimise.ts';
import type { FTest } from './panel-anova.ts';

/** A linear mixed model: y = Xβ + Σ effects + error. */
export interface MixedData {
  y: readonly number[];
  /** Fixed effects: [observations][parameters], full column rank. */
  x: readonly (readonly number[])[];
  /** Random effects: the group of each observation, numbered from 0. */
  random: readonly { name: string; group: readonly number[] }[];
}

/** A fitted mixed model. */
export interface MixedFit {
  beta: number[];
  /** Covariance of β: [parameters][parameters]. */
  covariance: number[][];
  /** Variance of each random effect and of the error. */
  variances: { name: string; variance: number }[];
  residual: number;
  /** −2 × restricted log-likelihood. */
  deviance: number;
  /** F of contrasts Lβ = 0 with Satterthwaite's degrees of freedom; rows of L are contrasts. */
  test(contrasts: readonly (readonly number[])[]): FTest;
}

/** Ratios of standard deviations below this are taken as 0. */
const NOTHING = 1e-4;

interface Parts {
  n: number;
  p: number;
  sizes: number[];
  zz: Matrix;
  zx: Matrix;
  zy: Matrix;
  xx: Matrix;
  xy: Matrix;
  yy: number;
}

/** Cross products, made once: every evaluation then costs only as much as there are groups. */
function partsOf({ y, x, random }: MixedData): Parts {
  const sizes = random.map(({ group }) => Math.max(...group) + 1);
  const q = sizes.reduce((a, b) => a + b, 0);
  const n = y.length;
  const z = Matrix.zeros(n, q);
  let offset = 0;
  random.forEach(({ group }, k) => {
    for (const [i, g] of group.entries()) z.set(i, offset + g, 1);
    offset += sizes[k]!;
  });
  const X = new Matrix(x.map((row) => [...row]));
  const Y = Matrix.columnVector([...y]);
  const zt = z.transpose();
  const xt = X.transpose();
  return {
    n,
    p: X.columns,
    sizes,
    zz: zt.mmul(z),
    zx: zt.mmul(X),
    zy: zt.mmul(Y),
    xx: xt.mmul(X),
    xy: xt.mmul(Y),
    yy: Y.dot(Y),
  };
}

interface Solved {
  beta: number[];
  /** Inverse of X′V⁻¹X at error variance 1. */
  unscaled: Matrix;
  /** r′V⁻¹r at error variance 1. */
  rss: number;
  logDet: number;
  logDetX: number;
}

/** Generalised least squares at given ratios of standard deviations, error variance 1. */
function solveAt(parts: Parts, ratios: readonly number[]): Solved {
  const scale = parts.sizes.flatMap((size, k) => new Array<number>(size).fill(Math.abs(ratios[k]!)));
  const q = scale.length;
  const m = Matrix.eye(q, q);
  for (let i = 0; i < q; i++)
    for (let j = 0; j < q; j++) m.set(i, j, m.get(i, j) + scale[i]! * scale[j]! * parts.zz.get(i, j));
  const weigh = (of: Matrix) => new Matrix(of.to2DArray().map((row, i) => row.map((v) => v * scale[i]!)));
  const chol = new CholeskyDecomposition(m);
  const [sx, sy] = [weigh(parts.zx), weigh(parts.zy)];
  const mx = chol.solve(sx);
  const my = chol.solve(sy);
  const xvx = symmetric(Matrix.sub(parts.xx, sx.transpose().mmul(mx)));
  const xvy = Matrix.sub(parts.xy, sx.transpose().mmul(my));
  const yvy = parts.yy - sy.dot(my);
  const unscaled = inverse(xvx);
  const beta = unscaled.mmul(xvy).to1DArray();
  const rss = yvy - beta.reduce((t, b, i) => t + b * xvy.get(i, 0), 0);
  const logDiagonal = (c: CholeskyDecomposition) =>
    2 * c.lowerTriangularMatrix.diagonal().reduce((t, v) => t + Math.log(v), 0);
  return {
    beta,
    unscaled,
    rss,
    logDet: logDiagonal(chol),
    logDetX: logDiagonal(new CholeskyDecomposition(xvx)),
  };
}

/** Takes out the difference between both halves that rounding leaves. */
const symmetric = (m: Matrix) => Matrix.mul(Matrix.add(m, m.transpose()), 0.5);

/** −2 × restricted log-likelihood at ratios and an error standard deviation. */
function devianceAt(parts: Parts, s: Solved, sigma: number): number {
  const df = parts.n - parts.p;
  return df * Math.log(2 * Math.PI * sigma * sigma) + s.logDet + s.logDetX + s.rss / (sigma * sigma);
}

/**
 * Fits a linear mixed model by restricted maximum likelihood, the error variance profiled out (Bates et al. 2015; from memory).
 * Tests of fixed effects use Satterthwaite's degrees of freedom (Giesbrecht & Burns 1985, Fai & Cornelius 1996; from
 * memory); effects whose variance is 0 count as absent there.
 */
export function fitMixed(data: MixedData): MixedFit {
  const parts = partsOf(data);
  const df = parts.n - parts.p;
  const profile = (ratios: readonly number[]) => {
    const s = solveAt(parts, ratios);
    return devianceAt(parts, s, Math.sqrt(s.rss / df));
  };
  const start = parts.sizes.map(() => 0.7);
  const ratios = climb((r) => -profile(r), start, 0.4)
    .map(Math.abs)
    .map((r) => (r < NOTHING ? 0 : r));
  const solved = solveAt(parts, ratios);
  const sigma = Math.sqrt(solved.rss / df);
  const covariance = Matrix.mul(solved.unscaled, sigma * sigma);
  const inner = { parts, ratios, sigma, covariance, beta: solved.beta };
  return {
    beta: solved.beta,
    covariance: covariance.to2DArray(),
    variances: data.random.map(({ name }, k) => ({ name, variance: (ratios[k]! * sigma) ** 2 })),
    residual: sigma * sigma,
    deviance: devianceAt(parts, solved, sigma),
    test: (contrasts) => testContrasts(inner, contrasts),
  };
}

interface Inner {
  parts: Parts;
  ratios: number[];
  sigma: number;
  covariance: Matrix;
  beta: number[];
}

function testContrasts(inner: Inner, contrasts: readonly (readonly number[])[]): FTest {
  const l = new Matrix(contrasts.map((row) => [...row]));
  const v = symmetric(l.mmul(inner.covariance).mmul(l.transpose()));
  const { eigenvectorMatrix, realEigenvalues } = new EigenvalueDecomposition(v, { assumeSymmetric: true });
  const rows = eigenvectorMatrix.transpose().mmul(l);
  const used = realEigenvalues.flatMap((value, i) =>
    value > 1e-12 * Math.max(...realEigenvalues) ? [i] : [],
  );
  const spread = varianceParameterSpread(inner);
  let f = 0;
  const dfs = used.map((i) => {
    const row = rows.getRow(i);
    const value = row.reduce((t, c, k) => t + c * inner.beta[k]!, 0);
    f += (value * value) / realEigenvalues[i]! / used.length;
    return satterthwaite(inner, row, realEigenvalues[i]!, spread);
  });
  const df2 = combinedDf(dfs);
  return { f, df1: used.length, df2, p: fAbove(f, used.length, df2) };
}

/** Fai & Cornelius: E = Σ ν/(ν − 2); df = 2E/(E − number). */
function combinedDf(dfs: readonly number[]): number {
  if (dfs.length === 1) return dfs[0]!;
  const first = dfs[0]!;
  // All the same: the formula only returns that value, and not for 2 or less.
  if (dfs.every((v) => Math.abs(v - first) < 1e-4 * first)) return first;
  const sum = dfs.filter((v) => v > 2).reduce((t, v) => t + v / (v - 2), 0);
  return sum > dfs.length ? (2 * sum) / (sum - dfs.length) : 2;
}

/** Indices of the variance parameters in use, and the covariance of those and the error's standard deviation. */
function varianceParameterSpread({ parts, ratios, sigma }: Inner): { used: number[]; covariance: Matrix } {
  const used = ratios.flatMap((r, k) => (r > 0 ? [k] : []));
  const deviance = (x: readonly number[]) =>
    devianceAt(parts, solveAt(parts, filled(ratios, used, x)), x[used.length]!);
  const point = [...used.map((k) => ratios[k]!), sigma];
  const smallest = Math.min(...point);
  const h = new Matrix(curvature(deviance, point, Math.min(1e-3, smallest / 20)));
  return { used, covariance: Matrix.mul(pseudoInverse(h), 2) };
}

const filled = (ratios: readonly number[], used: readonly number[], x: readonly number[]) =>
  ratios.map((r, k) => (used.includes(k) ? x[used.indexOf(k)]! : r));

const pseudoInverse = (m: Matrix) => new SingularValueDecomposition(m, { autoTranspose: true }).inverse();

/** 2 (l′Cl)² / (g′ A g), g the gradient of l′Cl over the variance parameters, A their covariance. */
function satterthwaite(
  { parts, ratios, sigma }: Inner,
  row: readonly number[],
  value: number,
  { used, covariance }: { used: number[]; covariance: Matrix },
): number {
  const variance = (x: readonly number[]) => {
    const { unscaled } = solveAt(parts, filled(ratios, used, x));
    const c = Matrix.rowVector([...row])
      .mmul(unscaled)
      .mmul(Matrix.columnVector([...row]))
      .get(0, 0);
    return c * x[used.length]! ** 2;
  };
  const point = [...used.map((k) => ratios[k]!), sigma];
  const gradient = point.map((v, k) => {
    const step = 1e-5 * Math.max(v, 1e-2);
    const moved = (by: number) => point.map((w, i) => (i === k ? w + by : w));
    return (variance(moved(step)) - variance(moved(-step))) / (2 * step);
  });
  const g = Matrix.columnVector(gradient);
  return (2 * value * value) / g.transpose().mmul(covariance).mmul(g).get(0, 0);
}

/**
 * Likelihood ratio test of one random effect: twice the fall of the restricted log-likelihood without it, and its p. A variance of 0
 * lies at the edge, so half the tail of χ² with 1 df.
 */
export function testRandom(data: MixedData, name: string): { ratio: number; p: number; unhalved_p: number } {
  const without = { ...data, random: data.random.filter((r) => r.name !== name) };
  const ratio = Math.max(0, fitMixed(without).deviance - fitMixed(data).deviance);
  const unhalved = chiSquaredAbove(ratio, 1);
  return { ratio, p: ratio > 0 ? unhalved / 2 : 1, unhalved_p: unhalved };
}
