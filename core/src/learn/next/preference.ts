import { inverse, LuDecomposition, Matrix } from 'ml-matrix';
import { normalCdf, normalDensity } from '../../panel/distributions.ts';

/** One blind choice between two places, by their numbers. */
export interface Choice {
  better: number;
  worse: number;
}

/** Values with normal errors of some of the places. */
export interface NoisyValue {
  place: number;
  value: number;
  variance: number;
}

/** What choices and values say of a worth, near its most probable course (Laplace). */
export interface LaplaceProcess {
  /** Most probable worth at each place. */
  mode: number[];
  /** K⁻¹ × mode: the mean elsewhere is a cross covariance times it. */
  alpha: number[];
  /** (I + W K)⁻¹ W: what is subtracted from the prior covariance, between cross covariances. */
  shrink: Matrix;
  sd: number[];
  /** ln evidence, to Laplace's order. */
  log: number;
}

/** Below this z, φ/Φ is taken from its limit. */
const FAR = -30;

/** φ(z)/Φ(z). */
const hazard = (z: number): number => (z < FAR ? -z : normalDensity(z) / normalCdf(z));

const STEPS = 100;

/**
 * A worth with a Gaussian prior, learnt from blind choices, P(a over b) = Φ((f_a − f_b)/(√2 σ)), and from noisy values where there are any;
 * Chu & Ghahramani 2005 (from memory). Newton with halved steps; the posterior has one peak.
 * @param prior covariance of the worth at the places [n][n]
 * @param noise σ of one tasting
 * @param expected what is expected of the worth before anything is known; the mode is counted from it
 */
export function laplaceProcess(
  prior: Matrix,
  choices: readonly Choice[],
  noise: number,
  values: readonly NoisyValue[] = [],
  expected: readonly number[] = [],
): LaplaceProcess | null {
  const n = prior.rows;
  const K = prior.clone();
  for (let i = 0; i < n; i++) K.set(i, i, K.get(i, i) + 1e-10 * (1 + K.get(i, i)));
  const back = inverse(K);
  const whole = (g: readonly number[]) => g.map((v, i) => v + (expected[i] ?? 0));
  const objective = (g: readonly number[]) =>
    logLikelihood(whole(g), choices, noise, values) - 0.5 * quadratic(back, g);
  let mode = new Array<number>(n).fill(0);
  let at = objective(mode);
  for (let step = 0; step < STEPS; step++) {
    const { gradient, weight } = slopes(whole(mode), choices, noise, values);
    // (K⁻¹ + W) f = W f + gradient.
    const right = Matrix.columnVector(
      weight
        .mmul(Matrix.columnVector(mode))
        .to1DArray()
        .map((v, i) => v + gradient[i]!),
    );
    const full = new LuDecomposition(back.clone().add(weight)).solve(right).to1DArray();
    let size = 1;
    let next = full;
    let value = objective(next);
    while (!(value >= at) && size > 1e-6) {
      size /= 2;
      next = mode.map((v, i) => v + size * (full[i]! - v));
      value = objective(next);
    }
    const moved = Math.max(...next.map((v, i) => Math.abs(v - mode[i]!)));
    [mode, at] = [next, value];
    if (moved < 1e-11) break;
  }
  if (!Number.isFinite(at)) return null;
  const { weight } = slopes(whole(mode), choices, noise, values);
  const joint = new LuDecomposition(Matrix.eye(n, n).add(weight.mmul(K)));
  const shrink = joint.solve(weight);
  const left = K.clone().sub(K.mmul(shrink).mmul(K));
  return {
    mode,
    alpha: back.mmul(Matrix.columnVector(mode)).to1DArray(),
    shrink,
    sd: left.diagonal().map((v) => Math.sqrt(Math.max(0, v))),
    log: at - 0.5 * Math.log(Math.abs(joint.determinant)),
  };
}

function logLikelihood(
  f: readonly number[],
  choices: readonly Choice[],
  noise: number,
  values: readonly NoisyValue[],
): number {
  const scale = Math.SQRT2 * noise;
  let log = 0;
  for (const { better, worse } of choices) {
    const z = (f[better]! - f[worse]!) / scale;
    log += z < FAR ? -0.5 * z * z - Math.log(-z) - 0.5 * Math.log(2 * Math.PI) : Math.log(normalCdf(z));
  }
  for (const { place, value, variance } of values)
    log -= 0.5 * ((value - f[place]!) ** 2 / variance + Math.log(2 * Math.PI * variance));
  return log;
}

/** Gradient of the log-likelihood and minus its second derivatives. */
function slopes(
  f: readonly number[],
  choices: readonly Choice[],
  noise: number,
  values: readonly NoisyValue[],
): { gradient: number[]; weight: Matrix } {
  const n = f.length;
  const gradient = new Array<number>(n).fill(0);
  const weight = Matrix.zeros(n, n);
  const scale = Math.SQRT2 * noise;
  const add = (i: number, j: number, v: number) => weight.set(i, j, weight.get(i, j) + v);
  for (const { better, worse } of choices) {
    const z = (f[better]! - f[worse]!) / scale;
    const h = hazard(z);
    gradient[better]! += h / scale;
    gradient[worse]! -= h / scale;
    const bend = (h * (z + h)) / (scale * scale);
    add(better, better, bend);
    add(worse, worse, bend);
    add(better, worse, -bend);
    add(worse, better, -bend);
  }
  for (const { place, value, variance } of values) {
    gradient[place]! += (value - f[place]!) / variance;
    add(place, place, 1 / variance);
  }
  return { gradient, weight };
}

function quadratic(m: Matrix, f: readonly number[]): number {
  const v = Matrix.columnVector([...f]);
  return v.transpose().mmul(m).mmul(v).get(0, 0);
}
