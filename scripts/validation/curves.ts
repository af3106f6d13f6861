import type { Plot } from './svg.ts';

/** A plot with the name of its file and the checks it belongs to. */
export interface NamedPlot {
  name: string;
  checks: string;
  plot: Plot;
}

export type Points = [number, number][];

/** `n` even steps from one end to the other. */
export const grid = (from: number, to: number, n: number): number[] =>
  Array.from({ length: n + 1 }, (_, i) => from + ((to - from) * i) / n);
export const curve = (xs: readonly number[], f: (x: number) => number): Points => xs.map((x) => [x, f(x)]);
/** A trace thinned to about `n` points. */
export const thinned = (time: Float64Array, values: Float64Array, n: number): Points => {
  const every = Math.max(1, Math.floor(time.length / n));
  return [...time.keys()].filter((i) => i % every === 0).map((i) => [time[i]!, values[i]!]);
};
