/**
 * The one time axis all lanes share: seconds to pixels and back, zoom, pan, ticks. Pure; the strip keeps the axis
 * as state and replaces it with what these functions return.
 */

/** A window of time [s] laid over a width [px]. Hazard: `to_s` must exceed `from_s`; {@link makeAxis} sees to it. */
export interface TimeAxis {
  readonly from_s: number;
  readonly to_s: number;
  readonly width_px: number;
}

/** The closest a person can zoom in: this many seconds over the whole width. */
export const MIN_SPAN_S = 8;

/** An axis over `[from_s, to_s]`; a span shorter than {@link MIN_SPAN_S} is widened about its middle. */
export function makeAxis(from_s: number, to_s: number, width_px: number): TimeAxis {
  const width = Math.max(1, width_px);
  if (to_s - from_s >= MIN_SPAN_S) return { from_s, to_s, width_px: width };
  const middle = (from_s + to_s) / 2;
  return { from_s: middle - MIN_SPAN_S / 2, to_s: middle + MIN_SPAN_S / 2, width_px: width };
}

/** Position of a moment [px from the left edge]; may lie outside the width. */
export const toPx = (axis: TimeAxis, time_s: number): number =>
  ((time_s - axis.from_s) / (axis.to_s - axis.from_s)) * axis.width_px;

/** Moment under a position [s]. */
export const toSeconds = (axis: TimeAxis, px: number): number =>
  axis.from_s + (px / axis.width_px) * (axis.to_s - axis.from_s);

/** How many pixels one second takes [px/s]. */
export const pxPerSecond = (axis: TimeAxis): number => axis.width_px / (axis.to_s - axis.from_s);

/** What may be seen at most: the brew with some air at both ends [s]. */
export interface Extent {
  readonly from_s: number;
  readonly to_s: number;
}

/** Keeps the axis inside the extent: first by shrinking its span, then by sliding it. */
export function clampAxis(axis: TimeAxis, extent: Extent): TimeAxis {
  const span = Math.min(axis.to_s - axis.from_s, extent.to_s - extent.from_s);
  const from_s = Math.min(Math.max(axis.from_s, extent.from_s), extent.to_s - span);
  return makeAxis(from_s, from_s + span, axis.width_px);
}

/** Zooms by `factor` (above 1 closer) so that the moment under `px` stays under it, within the extent. */
export function zoomAt(axis: TimeAxis, px: number, factor: number, extent: Extent): TimeAxis {
  const held = toSeconds(axis, px);
  const span = Math.min(
    Math.max((axis.to_s - axis.from_s) / factor, MIN_SPAN_S),
    extent.to_s - extent.from_s,
  );
  const from_s = held - (px / axis.width_px) * span;
  return clampAxis(makeAxis(from_s, from_s + span, axis.width_px), extent);
}

/** Slides the axis by a distance on screen [px]; positive moves towards later moments. */
export function panBy(axis: TimeAxis, px: number, extent: Extent): TimeAxis {
  const shift = px / pxPerSecond(axis);
  return clampAxis(makeAxis(axis.from_s + shift, axis.to_s + shift, axis.width_px), extent);
}

/**
 * The axis under two fingers: the moments that were under them at first stay under them as they move. When the
 * fingers meet (distance zero) the span cannot be told and the axis is left as it was.
 */
export function pinch(
  start: TimeAxis,
  was: readonly [px: number, px: number],
  now: readonly [px: number, px: number],
  extent: Extent,
): TimeAxis {
  const before = Math.abs(was[1] - was[0]);
  const after = Math.abs(now[1] - now[0]);
  if (before < 1 || after < 1) return start;
  const held = toSeconds(start, (was[0] + was[1]) / 2);
  const span = Math.min(
    Math.max(((start.to_s - start.from_s) * before) / after, MIN_SPAN_S),
    extent.to_s - extent.from_s,
  );
  const from_s = held - ((now[0] + now[1]) / 2 / start.width_px) * span;
  return clampAxis(makeAxis(from_s, from_s + span, start.width_px), extent);
}

/** A mark on the time axis. */
export interface TimeTick {
  readonly time_s: number;
  readonly major: boolean;
}

/** Steps a clock is read in [s]: major step and how it is divided. */
const CLOCK_STEPS: readonly (readonly [major: number, minor: number])[] = [
  [1, 0.5],
  [2, 1],
  [5, 1],
  [10, 5],
  [15, 5],
  [30, 10],
  [60, 15],
  [120, 30],
  [300, 60],
  [600, 120],
  [1_200, 300],
  [3_600, 600],
];

/** Ticks at round clock times, majors at least `apart_px` from one another. */
export function timeTicks(axis: TimeAxis, apart_px = 56): TimeTick[] {
  const perSecond = pxPerSecond(axis);
  const [major, minor] =
    CLOCK_STEPS.find(([step]) => step * perSecond >= apart_px) ?? CLOCK_STEPS[CLOCK_STEPS.length - 1]!;
  const ticks: TimeTick[] = [];
  const first = Math.ceil(axis.from_s / minor - 1e-9);
  const last = Math.floor(axis.to_s / minor + 1e-9);
  for (let i = first; i <= last; i++) {
    const time_s = i * minor;
    const turns = time_s / major;
    ticks.push({ time_s, major: Math.abs(turns - Math.round(turns)) < 1e-6 });
  }
  return ticks;
}
