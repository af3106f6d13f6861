/**
 * Mass in classes, as sieves and instruments give it: `limits` [m] rise, length J; `share` has length J + 1 and sums to 1. The
 * first share lies below the first limit, the last above the last: both classes are open.
 */
export interface Binned {
  limits: Float64Array;
  share: Float64Array;
}

/** How the cumulative curve runs between two limits: straight over the size or over its logarithm. */
export type Interpolation = 'log' | 'linear';

/** Cumulative undersize at the limits, length J. */
export function undersizes({ limits, share }: Binned): Float64Array {
  let sum = 0;
  return Float64Array.from(limits, (_, j) => {
    sum += share[j]!;
    return sum;
  });
}

/** Share below a diameter [m] by interpolation; null inside an open class that holds anything. */
export function binnedUndersize(binned: Binned, diameter: number, how: Interpolation = 'log'): number | null {
  const { limits, share } = binned;
  const last = limits.length - 1;
  if (diameter < limits[0]!) return share[0] === 0 ? 0 : null;
  if (diameter > limits[last]!) return share[last + 1] === 0 ? 1 : null;
  const below = undersizes(binned);
  let j = 0;
  while (j < last && limits[j + 1]! < diameter) j++;
  if (j === last) return below[last]!;
  return below[j]! + share[j + 1]! * place(limits[j]!, limits[j + 1]!, diameter, how);
}

function place(low: number, high: number, x: number, how: Interpolation): number {
  return how === 'log' ? Math.log(x / low) / Math.log(high / low) : (x - low) / (high - low);
}

/** Diameter [m] that a share `at` is smaller than, by interpolation; null when it lies in an open class. */
export function binnedQuantile(binned: Binned, at: number, how: Interpolation = 'log'): number | null {
  const { limits, share } = binned;
  const below = undersizes(binned);
  for (let j = 0; j < limits.length; j++) {
    if (below[j]! < at) continue;
    if (j === 0) return below[0] === at ? limits[0]! : null;
    const part = (at - below[j - 1]!) / share[j]!;
    const [low, high] = [limits[j - 1]!, limits[j]!];
    return how === 'log' ? low * (high / low) ** part : low + part * (high - low);
  }
  return null;
}

/** Lowest and highest value that data allow; equal when they leave no doubt. */
export interface Bounds {
  low: number;
  high: number;
}

/**
 * D[4,3] and D[3,2] [m] of classes, closed ones by their geometric middle. An open class has no size, so both means are given
 * as bounds: grains below the first limit lie between `finest` and it, those above the last between it and `coarsest`.
 */
export function binnedMeans(
  { limits, share }: Binned,
  finest: number,
  coarsest: number,
): { d43: Bounds; d32: Bounds } {
  const J = limits.length;
  let mass = 0;
  let surface = 0;
  for (let j = 1; j < J; j++) {
    const middle = Math.sqrt(limits[j - 1]! * limits[j]!);
    mass += share[j]! * middle;
    surface += share[j]! / middle;
  }
  const [pan, top] = [share[0]!, share[J]!];
  const [first, last] = [limits[0]!, limits[J - 1]!];
  const low = Math.min(finest, first);
  const high = Math.max(coarsest, last);
  return {
    d43: { low: mass + pan * low + top * last, high: mass + pan * first + top * high },
    d32: {
      low: 1 / (surface + pan / low + top / last),
      high: 1 / (surface + pan / first + top / high),
    },
  };
}
