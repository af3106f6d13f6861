/** The vertical side of a lane: which values it shows and where its marks stand. */

/** Values from `low` (bottom) to `high` (top) with marks every `step`. */
export interface ValueScale {
  readonly low: number;
  readonly high: number;
  readonly step: number;
}

const NICE = [1, 2, 2.5, 5, 10];

/** The round step that puts at most `most` marks over `span`. A span of zero or not finite gives 1. */
export function niceStep(span: number, most: number): number {
  if (!(span > 0) || !Number.isFinite(span)) return 1;
  const rough = span / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(rough));
  const factor = NICE.find((f) => f * power >= rough * (1 - 1e-9)) ?? 10;
  return factor * power;
}

/** A scale from `low` to at least `high`, ending on a mark. */
export function scaleOver(low: number, high: number, most: number): ValueScale {
  const step = niceStep(Math.max(high - low, 1e-9), most);
  return { low, high: low + Math.ceil((high - low) / step - 1e-9) * step || low + step, step };
}

/**
 * The scale to use after new data: the old one while the data still fits well (fills over 45 %), a new one otherwise. So
 * a lane does not jump about under a finger.
 */
export function steadyScale(old: ValueScale | null, low: number, high: number, most: number): ValueScale {
  if (old && old.low === low && high <= old.high && high - low > 0.45 * (old.high - old.low)) return old;
  return scaleOver(low, high, most);
}

/** Height of a value above the lane's bottom as a share of its height, 0–1 inside the scale. */
export const shareOf = (scale: ValueScale, value: number): number =>
  (value - scale.low) / (scale.high - scale.low);

/** Values at the marks, bottom first. */
export function marksOf(scale: ValueScale): number[] {
  const count = Math.round((scale.high - scale.low) / scale.step);
  return Array.from({ length: count + 1 }, (_, i) => Number((scale.low + i * scale.step).toPrecision(12)));
}

/** Decimals that tell marks of this step apart. */
export const decimalsOf = (step: number): number =>
  Math.max(0, Math.min(6, -Math.floor(Math.log10(step) + 1e-9) + (isTwoAndHalf(step) ? 1 : 0)));

const isTwoAndHalf = (step: number): boolean => {
  const lead = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
  return Math.abs(lead - 2.5) < 1e-6;
};

/** Decimals of a moment on a clock [s]: tenths are shown only when there are some. */
export const clockDigits = (time_s: number): number =>
  Number.isFinite(time_s) && Math.round(time_s * 10) % 10 !== 0 ? 1 : 0;
