import type { FitFamily } from './fit-kernels.ts';
import { solveSmall } from './photo/linear-solve.ts';

/** Where a climb ended. */
export interface Climbed {
  theta: Float64Array;
  /** Value of what was maximised. */
  value: number;
  iterations: number;
  converged: boolean;
}

/** What is maximised: value, gradient [K] and a positive curvature matrix [K][K] (row-major) at a point. */
type Surface = (theta: Float64Array, gradient: Float64Array, curvature: Float64Array) => number;

const MOST_STEPS = 300;
/** Steps that tell a good place to start from a bad one. */
export const FIRST_STEPS = 12;
const SMALL = 1e-13;

/**
 * Damped scoring (Levenberg and Marquardt): uphill by (C + λ diag C)⁻¹ g, λ falling when a step succeeds. Parameters are
 * put back within the limits of ln d after every step. Never throws; says when it did not settle.
 */
function climb(
  family: FitFamily,
  start: Float64Array,
  surface: Surface,
  range: readonly [number, number],
  steps: number,
): Climbed {
  const K = family.parameters;
  let theta = start.slice();
  family.confine(theta, range[0], range[1]);
  const gradient = new Float64Array(K);
  const curvature = new Float64Array(K * K);
  let value = surface(theta, gradient, curvature);
  let damping = 1e-3;
  let iterations = 0;
  let converged = false;
  for (; iterations < steps && damping < 1e12; iterations++) {
    const step = dampedStep(gradient, curvature, damping);
    const next = theta.map((x, k) => x + (step?.[k] ?? 0));
    family.confine(next, range[0], range[1]);
    const moved = Math.max(...next.map((x, k) => Math.abs(x - theta[k]!)));
    const tried = step ? surface(next, gradient, curvature) : Number.NEGATIVE_INFINITY;
    if (tried >= value) {
      theta = next;
      value = tried;
      damping = Math.max(1e-12, damping / 10);
      converged = moved < SMALL;
    } else {
      // The surface has been evaluated elsewhere: gradient and curvature are brought back to where we stand.
      surface(theta, gradient, curvature);
      damping *= 10;
      converged = moved < SMALL && step !== null;
    }
    if (converged) break;
  }
  if (steps < MOST_STEPS) return { theta, value, iterations, converged };
  return polish({ theta, value, iterations, converged }, family, surface, range);
}

/** Steps of {@link polish}. */
const POLISHING = 40;

/**
 * Full steps for as long as they flatten the slope. A value is flat at its top to half the digits of a number; its slope is not.
 */
function polish(
  end: Climbed,
  family: FitFamily,
  surface: Surface,
  range: readonly [number, number],
): Climbed {
  const K = family.parameters;
  const gradient = new Float64Array(K);
  const curvature = new Float64Array(K * K);
  const steepness = () =>
    Math.max(...gradient.map((g, k) => Math.abs(g) / Math.sqrt(curvature[k * K + k]! + 1e-300)));
  let { theta, value } = end;
  surface(theta, gradient, curvature);
  let steep = steepness();
  for (let i = 0; i < POLISHING; i++) {
    const step = dampedStep(gradient, curvature, 0);
    if (!step) break;
    const next = theta.map((x, k) => x + step[k]!);
    family.confine(next, range[0], range[1]);
    const tried = surface(next, gradient, curvature);
    const flatter = steepness();
    if (!(flatter < steep)) break;
    theta = next;
    value = tried;
    steep = flatter;
  }
  return { ...end, theta, value };
}

function dampedStep(gradient: Float64Array, curvature: Float64Array, damping: number): Float64Array | null {
  const K = gradient.length;
  const m = curvature.slice();
  for (let k = 0; k < K; k++) m[k * K + k] = m[k * K + k]! * (1 + damping) + 1e-300;
  const step = gradient.slice();
  return solveSmall(m, step) ? step : null;
}

/** Smallest share a model may give to a class before its logarithm is taken. */
const TINY = 1e-300;

/**
 * Maximum likelihood for mass in classes: maximises Σ wᵢ ln pᵢ, with the mass shares wᵢ and the model's pᵢ, by Fisher scoring.
 * @param logLimits ln of the limits, J; `share` has J + 1 values.
 */
export function climbLikelihood(
  family: FitFamily,
  start: Float64Array,
  logLimits: Float64Array,
  share: Float64Array,
  range: readonly [number, number],
  steps = MOST_STEPS,
): Climbed {
  const J = logLimits.length;
  const K = family.parameters;
  const below = new Float64Array(J);
  const slopes = new Float64Array(J * K);
  const slope = new Float64Array(K);
  const surface: Surface = (theta, gradient, curvature) => {
    family.evaluate(theta, logLimits, below, slopes);
    gradient.fill(0);
    curvature.fill(0);
    let value = 0;
    for (let j = 0; j <= J; j++) {
      const p = Math.max(TINY, (j < J ? below[j]! : 1) - (j > 0 ? below[j - 1]! : 0));
      const w = share[j]!;
      if (w > 0) value += w * Math.log(p);
      for (let k = 0; k < K; k++)
        slope[k] = (j < J ? slopes[j * K + k]! : 0) - (j > 0 ? slopes[(j - 1) * K + k]! : 0);
      for (let k = 0; k < K; k++) {
        gradient[k] = gradient[k]! + (w * slope[k]!) / p;
        for (let l = 0; l < K; l++)
          curvature[k * K + l] = curvature[k * K + l]! + (slope[k]! * slope[l]!) / p;
      }
    }
    return value;
  };
  return climb(family, start, surface, range, steps);
}

/** Least squares on the cumulative undersize at the limits (Gauss and Newton); `value` is minus the sum of squares. */
export function climbLeastSquares(
  family: FitFamily,
  start: Float64Array,
  logLimits: Float64Array,
  measured: Float64Array,
  range: readonly [number, number],
  steps = MOST_STEPS,
): Climbed {
  const J = logLimits.length;
  const K = family.parameters;
  const below = new Float64Array(J);
  const slopes = new Float64Array(J * K);
  const surface: Surface = (theta, gradient, curvature) => {
    family.evaluate(theta, logLimits, below, slopes);
    gradient.fill(0);
    curvature.fill(0);
    let value = 0;
    for (let j = 0; j < J; j++) {
      const miss = measured[j]! - below[j]!;
      value -= miss * miss;
      for (let k = 0; k < K; k++) {
        gradient[k] = gradient[k]! + miss * slopes[j * K + k]!;
        for (let l = 0; l < K; l++)
          curvature[k * K + l] = curvature[k * K + l]! + slopes[j * K + k]! * slopes[j * K + l]!;
      }
    }
    return value;
  };
  return climb(family, start, surface, range, steps);
}
