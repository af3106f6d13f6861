import { type BrewPlace, COMMON_COORDINATES, coordinatesOf, type Layout, naturalsAt } from './layout.ts';
import type { Surface } from './levenberg.ts';
import type { Observations } from './observe.ts';

/**
 * What the engine says of one trial, as a function of its D coordinates: along each of D axes a parabola near the centre and
 * straight lines beyond. M figures.
 */
export interface Surrogate {
  /** [D] */
  centre: Float64Array;
  /** From coordinates to steps along the axes, [D × D] row by row. */
  inverse: Float64Array;
  /** [M]; NaN for a figure that the engine does not give. */
  base: Float64Array;
  /** [M × D] */
  slope: Float64Array;
  /** Second derivatives along the axes, [M × D]. */
  bend: Float64Array;
}

/** One trial as the posterior sees it. */
export interface Evidence {
  place: BrewPlace;
  observations: Observations;
  surrogate: Surrogate;
}

/** Degrees of freedom of the errors: Student's t has a value far out cost little more than one that is just far. */
export const NU = 4;
/** Steps along an axis up to which the parabola holds. */
export const REACH = 1.6;
/** Products are turned into logarithms before they grow beyond this. */
const HUGE = 1e100;

/** The posterior of a fit in standard units, where every prior is a standard normal. */
export interface Target {
  size: number;
  /** Number of figures, all trials in a row. */
  figures: number;
  /** Trial that each figure belongs to. */
  trialOf: Int32Array;
  measured: Float64Array;
  /** Writes what is expected and the square of the scale of each figure. */
  expect(z: ArrayLike<number>, expected: Float64Array, square: Float64Array): void;
  /** ln of the posterior, without a constant; `without` leaves out one trial. */
  value(z: ArrayLike<number>, without?: number): number;
  /** The same for climbing, with its gradient and the expected curvature. */
  surface(without?: number): Surface;
}

/** Makes the posterior of some trials. Arrays are made once; a call allocates nothing. */
export function makeTarget(layout: Layout, trials: readonly Evidence[]): Target {
  const size = layout.unknowns.length;
  const counts = trials.map(({ observations }) => observations.values.length);
  const figures = counts.reduce((sum, m) => sum + m, 0);
  const trialOf = Int32Array.from(counts.flatMap((m, t) => new Array<number>(m).fill(t)));
  const measured = new Float64Array(figures);
  const doubt2 = new Float64Array(figures);
  const noise = new Int32Array(figures);
  let k = 0;
  for (const { observations: o } of trials)
    for (let i = 0; i < o.values.length; i++, k++) {
      measured[k] = o.values[i]!;
      doubt2[k] = o.doubts[i]! ** 2;
      noise[k] = o.channels[i]! < 0 ? -1 : layout.noiseAt[o.channels[i]!]!;
    }
  const natural = new Float64Array(size);
  const noise2 = new Float64Array(size);
  const widest = COMMON_COORDINATES + layout.grinders.length;
  const coordinates = new Float64Array(widest);
  const steps = new Float64Array(widest);
  const bends = new Float64Array(widest);
  const expected = new Float64Array(figures);
  const square = new Float64Array(figures);

  function expect(z: ArrayLike<number>, mean: Float64Array, squares: Float64Array): void {
    naturalsAt(layout, z, natural);
    for (const n of layout.noiseAt) if (n >= 0) noise2[n] = Math.exp(2 * natural[n]!);
    let at = 0;
    for (const { place, surrogate } of trials) {
      coordinatesOf(layout, natural, z, place, coordinates);
      stepsOf(surrogate, coordinates, steps, bends);
      const d = surrogate.centre.length;
      const { base, slope, bend } = surrogate;
      for (let i = 0; i < base.length; i++, at++) {
        let y = base[i]!;
        for (let a = 0; a < d; a++) y += slope[i * d + a]! * steps[a]! + bend[i * d + a]! * bends[a]!;
        mean[at] = y;
        const n = noise[at]!;
        squares[at] = doubt2[at]! + (n < 0 ? 0 : noise2[n]!);
      }
    }
  }

  /** Sum over figures of ln of their density, given means and squares of scales; one logarithm for many factors. */
  function likelihoodOf(
    z: ArrayLike<number>,
    mean: Float64Array,
    square: Float64Array,
    without: number,
  ): number {
    let sum = 0;
    for (let q = 0; q < size; q++) sum -= 0.5 * z[q]! * z[q]!;
    let tails = 1;
    let squares = 1;
    for (let i = 0; i < figures; i++) {
      const y = mean[i]!;
      if (trialOf[i] === without || Number.isNaN(y)) continue;
      const r = measured[i]! - y;
      tails *= 1 + (r * r) / (NU * square[i]!);
      squares *= square[i]!;
      if (tails > HUGE || squares > HUGE || squares < 1 / HUGE) {
        sum -= ((NU + 1) / 2) * Math.log(tails) + 0.5 * Math.log(squares);
        tails = 1;
        squares = 1;
      }
    }
    sum -= ((NU + 1) / 2) * Math.log(tails) + 0.5 * Math.log(squares);
    return Number.isFinite(sum) ? sum : Number.NEGATIVE_INFINITY;
  }

  function value(z: ArrayLike<number>, without = -1): number {
    expect(z, expected, square);
    return likelihoodOf(z, expected, square, without);
  }

  function surface(without = -1): Surface {
    const [mean, squares] = [new Float64Array(figures), new Float64Array(figures)];
    const [up, upSquares] = [new Float64Array(figures), new Float64Array(figures)];
    const [down, downSquares] = [new Float64Array(figures), new Float64Array(figures)];
    const meanSlopes = new Float64Array(figures * size);
    const lnSlopes = new Float64Array(figures * size);
    return (z, gradient, curvature) => {
      expect(z, mean, squares);
      const moved = z.slice();
      for (let q = 0; q < size; q++) {
        moved[q] = z[q]! + STEP;
        expect(moved, up, upSquares);
        moved[q] = z[q]! - STEP;
        expect(moved, down, downSquares);
        moved[q] = z[q]!;
        for (let i = 0; i < figures; i++) {
          meanSlopes[i * size + q] = (up[i]! - down[i]!) / (2 * STEP);
          lnSlopes[i * size + q] = (upSquares[i]! - downSquares[i]!) / (4 * STEP * squares[i]!);
        }
      }
      slopesOf(z, mean, squares, meanSlopes, lnSlopes, without, gradient, curvature);
      return likelihoodOf(z, mean, squares, without);
    };
  }

  /** Gradient and Fisher information of independent t errors: (ν+1)/(ν+3)/s² for the middle, 2ν/(ν+3) for ln s. */
  function slopesOf(
    z: ArrayLike<number>,
    mean: Float64Array,
    squares: Float64Array,
    meanSlopes: Float64Array,
    lnSlopes: Float64Array,
    without: number,
    gradient: Float64Array,
    curvature: Float64Array,
  ): void {
    curvature.fill(0);
    for (let q = 0; q < size; q++) {
      gradient[q] = -z[q]!;
      curvature[q * size + q] = 1;
    }
    for (let i = 0; i < figures; i++) {
      if (trialOf[i] === without || Number.isNaN(mean[i]!)) continue;
      const s = Math.sqrt(squares[i]!);
      const r = (measured[i]! - mean[i]!) / s;
      const weight = (NU + 1) / (NU + r * r);
      const ofMean = (weight * r) / s;
      const ofLn = weight * r * r - 1;
      const infoMean = (NU + 1) / (NU + 3) / (s * s);
      const infoLn = (2 * NU) / (NU + 3);
      for (let q = 0; q < size; q++) {
        const m = meanSlopes[i * size + q]!;
        const l = lnSlopes[i * size + q]!;
        if (m === 0 && l === 0) continue;
        gradient[q] = gradient[q]! + ofMean * m + ofLn * l;
        for (let w = 0; w < size; w++)
          curvature[q * size + w] =
            curvature[q * size + w]! +
            infoMean * m * meanSlopes[i * size + w]! +
            infoLn * l * lnSlopes[i * size + w]!;
      }
    }
  }

  return { size, figures, trialOf, measured, expect, value, surface };
}

/** Step of differences in standard units. */
const STEP = 1e-4;

/** Steps along the axes, and half their squares, which go on straight beyond where the engine was asked. */
export function stepsOf(
  { centre, inverse }: Surrogate,
  coordinates: Float64Array,
  steps: Float64Array,
  bends: Float64Array,
): void {
  const d = centre.length;
  for (let a = 0; a < d; a++) {
    let u = 0;
    for (let b = 0; b < d; b++) u += inverse[a * d + b]! * (coordinates[b]! - centre[b]!);
    steps[a] = u;
    const size = Math.abs(u);
    bends[a] = size <= REACH ? 0.5 * u * u : REACH * size - 0.5 * REACH * REACH;
  }
}
