import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { type BrewPlace, COMMON_COORDINATES, coordinatesOf, type Layout, naturalsAt } from './layout.ts';

/** Directions in which the engine is asked about a brew, `[D × D]` row by row: column a is a step along axis a. */
export interface Axes {
  axes: Float64Array;
  inverse: Float64Array;
}

/** Step of differences in standard units. */
const STEP = 1e-4;
/** Steps are this many posterior deviations long … */
const DEVIATIONS = 1.25;
/** … but, in prior deviations, not shorter: the mass and time at which a drip counts as over jump a little from run to run, … */
const SHORTEST = 0.8;
/** … nor longer. */
const LONGEST = 1.4;

/**
 * Axes along the principal directions of what is not known of one brew: there a posterior is widest, and there the engine's bend
 * matters. Lengths and angles are counted in prior deviations.
 * @param covariance of the unknowns in standard units [K × K]
 */
export function axesOf(
  layout: Layout,
  z: ArrayLike<number>,
  place: BrewPlace,
  covariance: ArrayLike<number>,
): Axes {
  const size = layout.unknowns.length;
  const d = COMMON_COORDINATES + place.grinders.length;
  const slopes = coordinateSlopes(layout, z, place);
  const scale = priorScales(layout, place);
  const spread = new Matrix(d, d);
  for (let a = 0; a < d; a++)
    for (let b = 0; b <= a; b++) {
      let sum = 0;
      for (let i = 0; i < size; i++) {
        if (slopes[a * size + i] === 0) continue;
        for (let j = 0; j < size; j++)
          sum += slopes[a * size + i]! * covariance[i * size + j]! * slopes[b * size + j]!;
      }
      spread.set(a, b, sum / (scale[a]! * scale[b]!));
      spread.set(b, a, sum / (scale[a]! * scale[b]!));
    }
  const { eigenvectorMatrix: vectors, realEigenvalues: values } = new EigenvalueDecomposition(spread, {
    assumeSymmetric: true,
  });
  const axes = new Float64Array(d * d);
  const inverse = new Float64Array(d * d);
  for (let a = 0; a < d; a++) {
    const length = Math.min(LONGEST, Math.max(SHORTEST, DEVIATIONS * Math.sqrt(Math.max(0, values[a]!))));
    for (let b = 0; b < d; b++) {
      axes[b * d + a] = scale[b]! * vectors.get(b, a) * length;
      inverse[a * d + b] = vectors.get(b, a) / (length * scale[b]!);
    }
  }
  return { axes, inverse };
}

/** One prior deviation along each coordinate by itself, for a first look. */
export function plainAxes(layout: Layout, place: BrewPlace): Axes {
  const scale = priorScales(layout, place);
  const d = scale.length;
  const axes = new Float64Array(d * d);
  const inverse = new Float64Array(d * d);
  for (let a = 0; a < d; a++) {
    axes[a * d + a] = scale[a]!;
    inverse[a * d + a] = 1 / scale[a]!;
  }
  return { axes, inverse };
}

/** Slope of each prior at its middle: a deviation on the natural scale. */
function priorScales(layout: Layout, place: BrewPlace): Float64Array {
  const { at, unknowns, grindAt } = layout;
  const places = [
    at.extractable,
    at.diffusion,
    at.permeability,
    at.retained,
    at.heat_loss,
    ...place.grinders.map((g) => grindAt[g]!),
  ];
  return Float64Array.from(places, (k) => unknowns[k]!.stretch.slope);
}

/** Slopes of a brew's coordinates in the unknowns, [D × K]. */
export function coordinateSlopes(layout: Layout, z: ArrayLike<number>, place: BrewPlace): Float64Array {
  const size = layout.unknowns.length;
  const d = COMMON_COORDINATES + place.grinders.length;
  const natural = new Float64Array(size);
  const [up, down] = [new Float64Array(d), new Float64Array(d)];
  const slopes = new Float64Array(d * size);
  const moved = Float64Array.from(z);
  const read = (out: Float64Array) =>
    coordinatesOf(layout, naturalsAt(layout, moved, natural), moved, place, out);
  for (let q = 0; q < size; q++) {
    moved[q] = z[q]! + STEP;
    read(up);
    moved[q] = z[q]! - STEP;
    read(down);
    moved[q] = z[q]!;
    for (let a = 0; a < d; a++) slopes[a * size + q] = (up[a]! - down[a]!) / (2 * STEP);
  }
  return slopes;
}
