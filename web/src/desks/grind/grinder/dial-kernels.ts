import {
  type DialPoint,
  dialPointOf,
  dialPointOfDistribution,
  type Grinder,
  type Sizing,
  touchAt,
} from '@pourline/core';
import type { Known } from '../room/analyst.ts';

/** Place of the median among the sizes a point carries. */
const middle = (point: DialPoint): number => point.logSizes[(point.logSizes.length - 1) / 2]!;

/** A point as it is drawn: where it stands on today's dial, its median and the range of 90 % [µm]. */
export function pointOf(
  point: DialPoint,
  touch: number,
): { dial: number; um: number; low: number; high: number } {
  const log = middle(point);
  const um = (shift: number): number => Math.exp(log + shift) * 1e6;
  return {
    dial: point.dial - (point.touch_dial ?? 0) + touch,
    um: um(0),
    low: um(-1.645 * point.doubt),
    high: um(1.645 * point.doubt),
  };
}

/** The number on a mark such as "8.5 (sieved)"; null when it has none or more than one. */
export function dialOfMark(mark: string): number | null {
  const numbers = mark.replaceAll(',', '.').match(/\d+(\.\d+)?/g) ?? [];
  return numbers.length === 1 ? Number(numbers[0]) : null;
}

/** What a grinder's curve is learnt from: its measurements, and, when asked, the settings as they are written down. */
export function pointsOf(
  grinder: Grinder,
  sizings: readonly Sizing[],
  known: ReadonlyMap<string, Known>,
  written: boolean,
): DialPoint[] {
  const measured = sizings.flatMap((sizing) => {
    const analysis = known.get(sizing.id)?.analysis;
    const point =
      analysis && sizing.grinder_id === grinder.id ? dialPointOf(sizing, analysis, grinder) : null;
    return point ? [point] : [];
  });
  if (!written) return measured;
  const touch_dial = touchNow(grinder);
  return [
    ...measured,
    ...grinder.settings.flatMap((setting) => {
      const dial = dialOfMark(setting.mark);
      return dial === null
        ? []
        : [{ ...dialPointOfDistribution(setting.mark, dial, setting.distribution), touch_dial }];
    }),
  ];
}

/** Where the burrs touch by the last entry of the record; null when there is none. */
export const touchNow = (grinder: Grinder): number | null => touchAt(grinder, null);

/** Round numbers along a part of a dial, ten at most. */
export function dialMarks(low: number, high: number): number[] {
  const raw = (high - low) / 8;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * ([1, 2, 2.5, 5, 10].find((one) => one * power >= raw) ?? 10);
  const first = Math.ceil(low / step - 1e-9);
  const count = Math.floor(high / step + 1e-9) - first + 1;
  return Array.from({ length: Math.max(0, count) }, (_, k) => Number(((first + k) * step).toPrecision(10)));
}

/** Coffee ground on the newest burrs by the record [kg]; null when none is written down. */
export const burrsNow = (grinder: Grinder): number | null => grinder.burrs.at(-1)?.used_kg ?? null;
