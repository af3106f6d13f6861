/** Sizes a chart shows [µm]. */
export interface Reach {
  low: number;
  high: number;
}

/** Sizes that are marked on the axis [µm]. */
export const MARKS: readonly number[] = [10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000];

/** The smallest reach of whole marks that holds all mass but a thousandth at either end of every line. */
export function reachOf(lines: readonly { um: readonly number[]; below: readonly number[] }[]): Reach {
  let low = 100;
  let high = 1_000;
  for (const { um, below } of lines) {
    const first = um[below.findIndex((pct) => pct > 0.2)] ?? low;
    const last = um[below.findIndex((pct) => pct > 99.8)] ?? um[um.length - 1] ?? high;
    low = Math.min(low, first);
    high = Math.max(high, last);
  }
  return {
    low: MARKS.findLast((mark) => mark <= low) ?? MARKS[0]!,
    high: MARKS.find((mark) => mark >= high) ?? MARKS[MARKS.length - 1]!,
  };
}

/** Place of a size on an axis of some width. */
export const placeOf = (um: number, { low, high }: Reach, width: number): number =>
  (Math.log(um / low) / Math.log(high / low)) * width;

/** The size at a place of the axis. */
export const sizeOf = (x: number, { low, high }: Reach, width: number): number =>
  low * (high / low) ** (x / width);

/** A round figure not below `most`, for the top of a scale. */
export function topOf(most: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(most, 1e-9)));
  return power * ([1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10].find((step) => step * power >= most) ?? 10);
}

/** A path through points. */
export const pathOf = (xs: readonly number[], ys: readonly number[]): string =>
  xs.map((x, i) => `${i ? 'L' : 'M'}${x.toFixed(1)} ${ys[i]!.toFixed(1)}`).join('');
