/** A model on the unit cube: reads `u` `[inputs]`, each 0–1, and writes `out` `[outputs]`; NaN where a figure does not exist. */
export type Model = (u: Float64Array, out: Float64Array) => void;

/** What sampling methods need to know of a model. */
export interface ModelShape {
  inputs: number;
  outputs: number;
}

/** Mean of the finite ones of some values, NaN when there is none. */
export function mean(values: readonly number[]): number {
  const finite = values.filter(Number.isFinite);
  return finite.length === 0 ? Number.NaN : finite.reduce((sum, x) => sum + x, 0) / finite.length;
}

/** Standard deviation of the finite ones (n − 1 in the divisor), NaN for fewer than two. */
export function deviation(values: readonly number[]): number {
  const finite = values.filter(Number.isFinite);
  if (finite.length < 2) return Number.NaN;
  const centre = mean(finite);
  return Math.sqrt(finite.reduce((sum, x) => sum + (x - centre) ** 2, 0) / (finite.length - 1));
}
