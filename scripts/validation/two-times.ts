/** Two exponentials that a rise towards a final value is made of. */
export interface TwoTimes {
  /** [s] */
  fast: number;
  slow: number;
  /** Share of the rise that is fast. */
  share: number;
}

/**
 * Fits 1 − share·e^(−t/fast) − (1 − share)·e^(−t/slow) to a rise by least squares: both times on a grid even in the logarithm, the share in
 * closed form, the grid narrowed six times.
 *
 * @param time [s], the rise at each of them as a share of its final value
 */
export function fitTwoTimes(time: readonly number[], rise: readonly number[]): TwoTimes {
  let best = { fast: 1, slow: 100, share: 0.5, error: Number.POSITIVE_INFINITY };
  let ranges: { fast: Range; slow: Range } = { fast: [0.1, 60], slow: [5, 3_000] };
  for (let round = 0; round < 6; round++) {
    for (const fast of steps(ranges.fast))
      for (const slow of steps(ranges.slow)) {
        if (slow <= 1.5 * fast) continue;
        const found = shareOf(time, rise, fast, slow);
        if (found.error < best.error) best = { fast, slow, ...found };
      }
    const narrow = 1.6 ** (1 / (round + 1));
    ranges = {
      fast: [best.fast / narrow, best.fast * narrow],
      slow: [best.slow / narrow, best.slow * narrow],
    };
  }
  return { fast: best.fast, slow: best.slow, share: best.share };
}

type Range = readonly [from: number, to: number];

const GRID = 24;

const steps = ([from, to]: Range): number[] =>
  Array.from({ length: GRID }, (_, i) => from * (to / from) ** (i / (GRID - 1)));

function shareOf(time: readonly number[], rise: readonly number[], fast: number, slow: number) {
  let top = 0;
  let bottom = 0;
  const rows = time.map((t, i) => {
    const b = Math.exp(-t / slow);
    const d = Math.exp(-t / fast) - b;
    const left = 1 - rise[i]!;
    top += d * (left - b);
    bottom += d * d;
    return { b, d, left };
  });
  const share = bottom > 0 ? top / bottom : 0;
  return { share, error: rows.reduce((sum, r) => sum + (r.left - r.b - share * r.d) ** 2, 0) };
}
