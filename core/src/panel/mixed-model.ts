import { EigenvalueDecomposition, Matrix, SingularValueDecomposition } from 'ml-matrix';
import { backward, cholesky, forward, inverseForm, logDeterminant } from './cholesky.ts';
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

/** Cross products, flat: every evaluation then costs only as much as there are groups. */
interface Parts {
  n: number;
  p: number;
  q: number;
  /** Random effect of each group. */
  effect: number[];
  effects: number;
  /** Z′Z [q][q], Z′(X y) [q][p + 1], (X y)′(X y) [p + 1][p + 1]. */
  zz: Float64Array;
  zxy: Float64Array;
  xyxy: Float64Array;
}

function partsOf({ y, x, random }: MixedData): Parts {
  const sizes = random.map(({ group }) => Math.max(...group) + 1);
  const q = sizes.reduce((a, b) => a + b, 0);
  const p = x[0]!.length;
  const m = p + 1;
  const offsets = sizes.map((_, k) => sizes.slice(0, k).reduce((a, b) => a + b, 0));
  const parts: Parts = {
    n: y.length,
    p,
    q,
    effect: sizes.flatMap((size, k) => new Array<number>(size).fill(k)),
    effects: sizes.length,
    zz: new Float64Array(q * q),
    zxy: new Float64Array(q * m),
    xyxy: new Float64Array(m * m),
  };
  y.forEach((value, i) => {
    const row = [...x[i]!, value];
    const groups = random.map(({ group }, k) => offsets[k]! + group[i]!);
    for (const g of groups) {
      for (const h of groups) parts.zz[g * q + h]! += 1;
      for (let c = 0; c < m; c++) parts.zxy[g * m + c]! += row[c]!;
    }
    for (let a = 0; a < m; a++) for (let c = 0; c < m; c++) parts.xyxy[a * m + c]! += row[a]! * row[c]!;
  });
  return parts;
}

interface Solved {
  /** Cholesky factor of X′V⁻¹X at error variance 1: [p][p]. */
  factor: Float64Array;
  beta: Float64Array;
  /** r′V⁻¹r at error variance 1. */
  rss: number;
  /** ln det V + ln det X′V⁻¹X at error variance 1. */
  logDet: number;
}

/** Generalised least squares at given ratios of standard deviations, error variance 1. */
function solveAt(parts: Parts, ratios: readonly number[]): Solved {
  const { p, q, effect, zz, zxy, xyxy } = parts;
  const m = p + 1;
  const scale = effect.map((k) => Math.abs(ratios[k]!));
  const inner = new Float64Array(q * q);
  const scaled = new Float64Array(q * m);
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) inner[i * q + j] = scale[i]! * scale[j]! * zz[i * q + j]!;
    inner[i * q + i]! += 1;
    for (let c = 0; c < m; c++) scaled[i * m + c] = scale[i]! * zxy[i * m + c]!;
  }
  const l = cholesky(inner, q);
  const w = forward(l, q, scaled, m);
  // (X y)′V⁻¹(X y): what the groups explain is taken off.
  const left = Float64Array.from(xyxy);
  for (let g = 0; g < q; g++)
    for (let a = 0; a < m; a++) for (let c = 0; c < m; c++) left[a * m + c]! -= w[g * m + a]! * w[g * m + c]!;
  const xvx = Float64Array.from({ length: p * p }, (_, at) => left[Math.floor(at / p) * m + (at % p)]!);
  const factor = cholesky(xvx, p);
  const z = forward(
    factor,
    p,
    Float64Array.from({ length: p }, (_, i) => left[i * m + p]!),
    1,
  );
  return {
    factor,
    beta: backward(factor, p, z),
    rss: left[p * m + p]! - z.reduce((t, v) => t + v * v, 0),
    logDet: logDeterminant(l, q) + logDeterminant(factor, p),
  };
}

/** −2 × restricted log-likelihood at ratios and an error standard deviation. */
function devianceAt(parts: Parts, s: Solved, sigma: number): number {
  const df = parts.n - parts.p;
  return df * Math.log(2 * Math.PI * sigma * sigma) + s.logDet + s.rss / (sigma * sigma);
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
  const start = new Array<number>(parts.effects).fill(0.7);
  const ratios = climb((r) => -profile(r), start, 0.4)
    .map(Math.abs)
    .map((r) => (r < NOTHING ? 0 : r));
  const solved = solveAt(parts, ratios);
  const sigma = Math.sqrt(solved.rss / df);
  const covariance = covarianceOf(solved.factor, parts.p, sigma);
  const inner = { parts, ratios, sigma, covariance, beta: [...solved.beta] };
  // Wanted by every test and the same for all.
  let spread: VarianceSpread | undefined;
  return {
    beta: inner.beta,
    covariance: covariance.to2DArray(),
    variances: data.random.map(({ name }, k) => ({ name, variance: (ratios[k]! * sigma) ** 2 })),
    residual: sigma * sigma,
    deviance: devianceAt(parts, solved, sigma),
    test(contrasts) {
      spread ??= varianceParameterSpread(inner);
      return testContrasts(inner, contrasts, spread);
    },
  };
}

/** σ²(X′V⁻¹X)⁻¹ from the factor. */
function covarianceOf(factor: Float64Array, p: number, sigma: number): Matrix {
  const columns = Array.from({ length: p }, (_, k) => {
    const unit = Float64Array.from({ length: p }, (__, i) => (i === k ? 1 : 0));
    return Array.from(backward(factor, p, forward(factor, p, unit, 1)), (v) => v * sigma * sigma);
  });
  return new Matrix(columns);
}

interface Inner {
  parts: Parts;
  ratios: number[];
  sigma: number;
  covariance: Matrix;
  beta: number[];
}

function testContrasts(
  inner: Inner,
  contrasts: readonly (readonly number[])[],
  spread: VarianceSpread,
): FTest {
  const l = new Matrix(contrasts.map((row) => [...row]));
  const v = l.mmul(inner.covariance).mmul(l.transpose());
  const { eigenvectorMatrix, realEigenvalues } = new EigenvalueDecomposition(v, { assumeSymmetric: true });
  const rows = eigenvectorMatrix.transpose().mmul(l);
  const used = realEigenvalues.flatMap((value, i) =>
    value > 1e-12 * Math.max(...realEigenvalues) ? [i] : [],
  );
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
interface VarianceSpread {
  used: number[];
  covariance: Matrix;
}

function varianceParameterSpread({ parts, ratios, sigma }: Inner): VarianceSpread {
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
  { used, covariance }: VarianceSpread,
): number {
  const variance = (x: readonly number[]) => {
    const { factor } = solveAt(parts, filled(ratios, used, x));
    const c = inverseForm(factor, parts.p, row);
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
