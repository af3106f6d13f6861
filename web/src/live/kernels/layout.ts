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
  row_px: number;
  figure_px: number;
  clock_px: number;
  target_px: number;
  strip_px: number;
  side_px: number;
  /** What the figures take up at that distance [minutes of arc]. */
  arcmin: number;
  /** They are smaller than the least that standards ask for: the glass is too small for that distance. */
  too_small: boolean;
}

const ROW_PER_FIGURE = 1.34;
/** A figure such as "120 g" or "Swirl", a badge and a count fill a row of so many sizes of type. */
const FIGURES_WIDE = 5.6;

/** Lays the live view out on a piece of glass: targets first, then letters as large as they can be, then as many lanes as fit. */
export function layoutLive(glass: Glass): LiveLayout {
  const { width_px, height_px, px_per_mm, distance_m, lanes } = glass;
  const target_px = Math.max(44, WET_TARGET_MM * px_per_mm);
  const least = typeSize_mm(LEAST_ARCMIN, distance_m) * px_per_mm;
  const good = typeSize_mm(GOOD_ARCMIN, distance_m) * px_per_mm;
  const form = height_px < 4.6 * target_px + least ? 'low' : 'tall';
  const side_px = form === 'low' ? Math.round(Math.max(2.6 * target_px, 0.36 * width_px)) : 0;
  const wide = width_px - side_px;
  // The strip is the first to give way: it repeats what the lanes say.
  const room = (strip: number, clock: number): number =>
    form === 'low' ? height_px - strip : height_px - clock - strip - 2 * target_px - 24;
  const fits = (figure: number): number => Math.min(figure, wide / FIGURES_WIDE);
  const clockFor = (figure: number): number =>
    Math.round(Math.min(1.25 * figure, (form === 'low' ? side_px : wide) / 3.4));
  let strip_px = Math.round(Math.min(0.2 * height_px, 26 + 18 * Math.max(1, lanes)));
  let figure = fits(good);
  const rowsAt = (size: number, strip: number): number =>
    Math.floor(room(strip, form === 'tall' ? 1.2 * clockFor(size) : 0) / (ROW_PER_FIGURE * size));
  if (rowsAt(figure, strip_px) < lanes) {
    figure = Math.max(
      fits(least),
      Math.min(figure, room(strip_px, 1.2 * clockFor(figure)) / (ROW_PER_FIGURE * lanes)),
    );
    if (rowsAt(figure, strip_px) < lanes) strip_px = form === 'low' ? 0 : Math.min(strip_px, 40);
  } else {
    const all = room(strip_px, form === 'tall' ? 1.2 * clockFor(figure) : 0) / lanes / ROW_PER_FIGURE;
    figure = fits(Math.min(all, 2 * good));
  }
  const shown = Math.max(1, Math.min(lanes, rowsAt(figure, strip_px)));
  const clock_px = clockFor(figure);
  const row_px = Math.floor(
    Math.min(2.4 * figure, room(strip_px, form === 'tall' ? 1.2 * clock_px : 0) / shown),
  );
  const arcmin = letterAngle_arcmin((figure * CAP_HEIGHT) / px_per_mm, distance_m);
  return {
    form,
    shown,
    row_px: Math.max(row_px, target_px),
    figure_px: Math.floor(figure),
    clock_px,
    target_px: Math.ceil(target_px),
    strip_px,
    side_px,
    arcmin,
    too_small: arcmin < LEAST_ARCMIN - 0.5,
  };
}
