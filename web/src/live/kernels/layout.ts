import {
  CAP_HEIGHT,
  GOOD_ARCMIN,
  LEAST_ARCMIN,
  letterAngle_arcmin,
  typeSize_mm,
  WET_TARGET_MM,
} from '@pourline/core';

/** The glass and who looks at it. */
export interface Glass {
  width_px: number;
  height_px: number;
  px_per_mm: number;
  /** Distance of the eye [m]. */
  distance_m: number;
  /** Brewers, and one more when there is a talk. */
  lanes: number;
}

/** Sizes of everything in the live view [px]. */
export interface LiveLayout {
  /** Clock and buttons above and below the lanes, or in a column beside them on low glass. */
  form: 'tall' | 'low';
  /** Lanes that can be shown with letters that can be read; the others follow as their turn comes. */
  shown: number;
  figure_px: number;
  clock_px: number;
  target_px: number;
  strip_px: number;
  side_px: number;
  /** Room for what is to be done, beside badge and count [px]. */
  what_px: number;
  /** What the figures take up at that distance [minutes of arc]. */
  arcmin: number;
  /** They are smaller than the least that standards ask for: the glass is too small for that distance. */
  too_small: boolean;
}

/** Height of a row in sizes of type: the figure, and a small line under it. */
const ROW = 1.36;
/** Width of a row in sizes of type: a badge, "200" with a small unit, "20", and the gaps between. */
const ROW_WIDE = 4.1;
/** Badge, gaps and count alone. */
const BESIDE = 2.4;
/** "10:00" with air beside it. */
const CLOCK_WIDE = 2.7;
const GAPS_PX = 26;
/** The line that says how many lanes are out of view. */
const REST_PX = 30;
const THIN_STRIP_PX = 52;

/**
 * Lays the live view out on a piece of glass: targets for wet fingers first, then every lane with figures as large as they can be, up to twice what is good. The strip
 * gives way before a lane does, because it repeats what the lanes say; a lane gives way before its letters become too small to read.
 */
export function layoutLive(glass: Glass): LiveLayout {
  const { width_px, height_px, px_per_mm, distance_m, lanes } = glass;
  const target_px = Math.ceil(Math.max(44, WET_TARGET_MM * px_per_mm));
  const least = typeSize_mm(LEAST_ARCMIN, distance_m) * px_per_mm;
  const most = 2 * typeSize_mm(GOOD_ARCMIN, distance_m) * px_per_mm;
  const form = height_px < 4.8 * target_px + least && width_px > height_px ? 'low' : 'tall';
  const side_px = form === 'low' ? Math.min(4 * target_px + 30, Math.round(0.5 * width_px)) : 0;
  const wide = width_px - side_px;
  const clockFor = (figure: number): number =>
    form === 'low'
      ? Math.min(side_px / CLOCK_WIDE, height_px - 2.6 * target_px)
      : Math.min(1.25 * figure, wide / (CLOCK_WIDE + 1.6));
  const heightFor = (figure: number, rows: number, strip: number): number =>
    rows * ROW * figure +
    (rows < lanes ? REST_PX : 0) +
    strip +
    (form === 'low' ? 0 : 1.15 * clockFor(figure) + 2.15 * target_px + GAPS_PX);
  const wanted = form === 'low' ? 0 : Math.round(Math.min(0.16 * height_px, 26 + 18 * Math.max(1, lanes)));
  const thin = Math.min(wanted, THIN_STRIP_PX);
  const readable = Math.min(least, wide / ROW_WIDE);
  let shown = Math.max(1, lanes);
  let strip_px = wanted;
  if (heightFor(readable, shown, strip_px) > height_px) strip_px = thin;
  while (shown > 1 && heightFor(readable, shown, strip_px) > height_px) shown--;
  const figure = largest(
    Math.min(most, wide / ROW_WIDE),
    (size) => heightFor(size, shown, strip_px) <= height_px,
  );
  const arcmin = letterAngle_arcmin((figure * CAP_HEIGHT) / px_per_mm, distance_m);
  return {
    form,
    shown,
    figure_px: Math.floor(figure),
    clock_px: Math.floor(clockFor(figure)),
    target_px,
    strip_px,
    side_px,
    what_px: Math.floor(wide - BESIDE * figure),
    arcmin,
    too_small: arcmin < LEAST_ARCMIN - 0.5,
  };
}

/** Largest size up to `most` that fits, to a tenth of a pixel; never less than what can be drawn at all. */
function largest(most: number, fits: (size: number) => boolean): number {
  if (fits(most)) return most;
  let [low, high] = [12, most];
  while (high - low > 0.1) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return low;
}
