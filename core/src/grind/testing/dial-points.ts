import type { DialPoint } from '../dial-points.ts';
import { logSizesOf } from '../levels.ts';
import type { SizeModel } from '../model.ts';

/** A filter grind with its main mode at a median [µm]. */
export const grind = (median_um: number, fines = 0.12): SizeModel => ({
  family: 'log_normal',
  modes: [
    { share: fines, median: 48e-6, gsd: 1.6 },
    { share: 1 - fines, median: median_um * 1e-6, gsd: 1.45 },
  ],
});
/** A grinder whose main mode is 100 µm a mark, coarser with warm beans, its zero where `touch` says. */
export const point = (dial: number, more: Partial<DialPoint> & { median?: number } = {}): DialPoint => {
  const { median = 100 * dial, ...rest } = more;
  return {
    name: String(dial),
    dial,
    touch_dial: null,
    beans_C: null,
    burrs_kg: null,
    doubt: 0.015,
    logSizes: logSizesOf(grind(median)),
    ...rest,
  };
};

/** Five settings of it. */
export const five = [6, 7, 8, 9, 10].map((dial) => point(dial));
