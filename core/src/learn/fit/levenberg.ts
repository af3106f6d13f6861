import { backward, cholesky, forward } from '../../panel/cholesky.ts';

/**
 * What is maximised: the value at `x` [n], with its gradient [n] and a curvature [n × n], row by row, that is never negative (the
 * expected or Gauss–Newton one, not minus the second derivatives). Not finite where x is impossible.
 */
export type Surface = (x: Float64Array, gradient: Float64Array, curvature: Float64Array) => number;

export interface ClimbOptions {
  /** Defaults to 200. */
  steps?: number;
  /** The last full steps end when one moves every unknown by less than this, relative to its size or to 1e-6. Defaults to 1e-10. */
  tolerance?: number;
  /** Damping of the first step, in units of the curvature; more for a start that is far away. Defaults to 1e-3. */
  damping?: number;
}

export interface Climbed {
  x: Float64Array;
  value: number;
  gradient: Float64Array;
  curvature: Float64Array;
  steps: number;
  /** Ended because nothing more could be gained. */
  converged: boolean;
}

const START_DAMPING = 1e-3;
/** A gain below this share of the value is lost in rounding. */
const FLAT = 1e-13;
/** Most full steps at the end. */
const POLISHING = 20;
const MOST_DAMPING = 1e16;
/** Below this an unknown's size no longer counts. */
const TINY = 1e-6;

/**
 * Climbs by damped steps (C + λ diag C)⁻¹ g: Levenberg 1944, Marquardt 1963; λ follows the gain that was promised and the gain
 * that came (Nielsen 1999, from memory). Never throws; says when it did not settle.
 *
 * Our own and not a library's: a posterior with Student-t errors and unknown noise is no sum of squares of fixed scale, and
 * the covariance at the end is needed too. Sums of squares are a case of it (`leastSquares`).
 */
export function climbDamped(surface: Surface, start: ArrayLike<number>, options: ClimbOptions = {}): Climbed {
  const { steps: most = 200, tolerance = 1e-10 } = options;
  const n = start.length;
  let x = Float64Array.from(start);
  let gradient = new Float64Array(n);
  let curvature = new Float64Array(n * n);
  let value = surface(x, gradient, curvature);
  let triedGradient = new Float64Array(n);
  let triedCurvature = new Float64Array(n * n);
  const scale = new Float64Array(n);
  let damping = options.damping ?? START_DAMPING;
  let growth = 2;
  let steps = 0;
  let converged = false;
  while (steps < most && damping < MOST_DAMPING && !converged) {
    steps++;
    for (let k = 0; k < n; k++) scale[k] = Math.max(scale[k]!, curvature[k * n + k]!);
    const step = dampedStep(gradient, curvature, scale, damping);
    if (!step) {
      damping *= growth;
      growth *= 2;
      continue;
    }
    const next = x.map((v, k) => v + step[k]!);
    const tried = surface(next, triedGradient, triedCurvature);
    const promised = promisedGain(step, gradient, curvature);
    if (tried > value) {
      const ratio = (tried - value) / promised;
      x = next;
      value = tried;
      [gradient, triedGradient] = [triedGradient, gradient];
      [curvature, triedCurvature] = [triedCurvature, curvature];
      damping *= Math.max(1 / 3, 1 - (2 * Math.min(1, ratio) - 1) ** 3);
      growth = 2;
    } else {
      damping *= growth;
      growth *= 2;
    }
    // A value is flat at its top to half the digits of a number: from here on only its slope can tell the way.
    converged = fullGain(gradient, curvature) <= FLAT * Math.abs(value) + Number.MIN_VALUE;
  }
  const end = { x, value, gradient, curvature, steps, converged };
  return converged ? polish(surface, end, tolerance) : end;
}

/** What a full step would gain, ½ gᵀC⁻¹g; NaN when the curvature is singular. */
function fullGain(gradient: Float64Array, curvature: Float64Array): number {
  const step = dampedStep(gradient, curvature, gradient, 0);
  return step ? step.reduce((sum, s, k) => sum + (s * gradient[k]!) / 2, 0) : Number.NaN;
}

/** Full steps for as long as they flatten the slope. */
function polish(surface: Surface, end: Climbed, tolerance: number): Climbed {
  let { x, value, gradient, curvature, steps } = end;
  const n = x.length;
  for (let k = 0; k < POLISHING; k++) {
    const step = dampedStep(gradient, curvature, gradient, 0);
    if (!step) break;
    const next = x.map((v, i) => v + step[i]!);
    const [g, c] = [new Float64Array(n), new Float64Array(n * n)];
    const tried = surface(next, g, c);
    steps++;
    if (!(fullGain(g, c) < fullGain(gradient, curvature))) break;
    [x, value, gradient, curvature] = [next, tried, g, c];
    if (step.every((s, i) => Math.abs(s) <= tolerance * Math.max(TINY, Math.abs(x[i]!)))) break;
  }
  return { x, value, gradient, curvature, steps, converged: true };
}

/** gᵀs − ½ sᵀCs. */
function promisedGain(step: Float64Array, gradient: Float64Array, curvature: Float64Array): number {
  const n = step.length;
  let gain = 0;
  for (let k = 0; k < n; k++) {
    let bent = 0;
    for (let l = 0; l < n; l++) bent += curvature[k * n + l]! * step[l]!;
    gain += step[k]! * (gradient[k]! - bent / 2);
  }
  return gain;
}

function dampedStep(
  gradient: Float64Array,
  curvature: Float64Array,
  scale: Float64Array,
  damping: number,
): Float64Array | null {
  const n = gradient.length;
  const m = curvature.slice();
  for (let k = 0; k < n; k++) m[k * n + k] = m[k * n + k]! + damping * scale[k]! + 1e-300;
  // Unknowns of very different size: factorise with a unit diagonal.
  const root = Float64Array.from({ length: n }, (_, k) => Math.sqrt(m[k * n + k]!));
  for (let k = 0; k < n; k++)
    for (let l = 0; l < n; l++) m[k * n + l] = m[k * n + l]! / (root[k]! * root[l]!);
  const factor = cholesky(m, n);
  const right = gradient.map((g, k) => g / root[k]!);
  const step = backward(factor, n, forward(factor, n, right, 1)).map((s, k) => s / root[k]!);
  return step.every(Number.isFinite) ? step : null;
}

/** Step of a central difference, relative: the cube root of the spacing of numbers. */
const DIFFERENCE = 6e-6;

/**
 * Least squares as a surface: value −½ Σ r², gradient Jᵀr and curvature JᵀJ, with J by central differences.
 * @param model writes what is expected at x into the second argument
 */
export function leastSquares(
  model: (x: Float64Array, expected: Float64Array) => void,
  measured: ArrayLike<number>,
): Surface {
  const m = measured.length;
  const expected = new Float64Array(m);
  const [above, below] = [new Float64Array(m), new Float64Array(m)];
  return (x, gradient, curvature) => {
    const n = x.length;
    const slopes = new Float64Array(m * n);
    model(x, expected);
    const moved = x.slice();
    for (let k = 0; k < n; k++) {
      const h = DIFFERENCE * Math.max(Math.abs(x[k]!), 1e-8);
      moved[k] = x[k]! + h;
      model(moved, above);
      moved[k] = x[k]! - h;
      model(moved, below);
      moved[k] = x[k]!;
      for (let i = 0; i < m; i++) slopes[i * n + k] = (above[i]! - below[i]!) / (2 * h);
    }
    gradient.fill(0);
    curvature.fill(0);
    let value = 0;
    for (let i = 0; i < m; i++) {
      const miss = measured[i]! - expected[i]!;
      value -= (miss * miss) / 2;
      for (let k = 0; k < n; k++) {
        const slope = slopes[i * n + k]!;
        gradient[k] = gradient[k]! + miss * slope;
        for (let l = 0; l < n; l++) curvature[k * n + l] = curvature[k * n + l]! + slope * slopes[i * n + l]!;
      }
    }
    return Number.isFinite(value) ? value : Number.NEGATIVE_INFINITY;
  };
}
