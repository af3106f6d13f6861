/** Where marks of the strength–yield plot stand. Kernels: no screen. */

/** Part of the plane that is shown: yield across, strength up [%]. */
export interface Window {
  readonly yield_low: number;
  readonly yield_high: number;
  readonly strength_low: number;
  readonly strength_high: number;
}

/** Room of the drawing [px]. */
export interface Room {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface PlanePoint {
  readonly yield_pct: number;
  readonly strength_pct: number;
}

/** What is shown when nothing is measured yet. */
const USUAL: Window = { yield_low: 16, yield_high: 24, strength_low: 1, strength_high: 1.6 };

const down = (value: number, step: number): number => Math.floor(value / step + 1e-9) * step;
const up = (value: number, step: number): number => Math.ceil(value / step - 1e-9) * step;

/**
 * The window that holds all points, with air, on whole steps, and never so close that noise looks like structure: at least
 * 6 % of yield and 0.4 % of strength. Regions are shown where they lie within; a far one does not stretch the plot.
 */
export function windowOf(points: readonly PlanePoint[]): Window {
  if (points.length === 0) return USUAL;
  let { yield_low, yield_high, strength_low, strength_high } = {
    yield_low: Number.POSITIVE_INFINITY,
    yield_high: Number.NEGATIVE_INFINITY,
    strength_low: Number.POSITIVE_INFINITY,
    strength_high: Number.NEGATIVE_INFINITY,
  };
  for (const { yield_pct, strength_pct } of points) {
    yield_low = Math.min(yield_low, yield_pct);
    yield_high = Math.max(yield_high, yield_pct);
    strength_low = Math.min(strength_low, strength_pct);
    strength_high = Math.max(strength_high, strength_pct);
  }
  const [y0, y1] = atLeast(yield_low - 0.6, yield_high + 0.6, 6);
  const [s0, s1] = atLeast(strength_low - 0.05, strength_high + 0.05, 0.4);
  return {
    yield_low: Math.max(0, down(y0, 1)),
    yield_high: up(y1, 1),
    strength_low: Math.max(0, down(s0, 0.1)),
    strength_high: up(s1, 0.1),
  };
}

function atLeast(low: number, high: number, span: number): [number, number] {
  const short = span - (high - low);
  return short > 0 ? [low - short / 2, high + short / 2] : [low, high];
}

export const xOf = (yield_pct: number, { yield_low, yield_high }: Window, { left, width }: Room): number =>
  left + ((yield_pct - yield_low) / (yield_high - yield_low)) * width;

export const yOf = (
  strength_pct: number,
  { strength_low, strength_high }: Window,
  { top, height }: Room,
): number => top + (1 - (strength_pct - strength_low) / (strength_high - strength_low)) * height;

/** Steps of an axis that leave about `count` marks. */
export function ticks(low: number, high: number, count: number): number[] {
  const raw = (high - low) / count;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * ([1, 2, 5, 10].find((factor) => factor * power >= raw) ?? 10);
  const marks: number[] = [];
  for (let value = up(low, step); value <= high + 1e-9; value += step)
    marks.push(Number(value.toPrecision(10)));
  return marks;
}

/** The nearest point within `reach` [px] of a place, by its index; −1 when there is none. */
export function nearest(places: Float64Array, x: number, y: number, reach: number): number {
  let best = -1;
  let least = reach * reach;
  for (let i = 0; i * 2 < places.length; i++) {
    const dx = places[2 * i]! - x;
    const dy = places[2 * i + 1]! - y;
    const away = dx * dx + dy * dy;
    if (away <= least) {
      least = away;
      best = i;
    }
  }
  return best;
}
