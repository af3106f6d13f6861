/**
 * How large letters must be. A letter is read by the angle it takes up in the eye: h = 2 d tan(α/2). Standards for screens ask for 16
 * minutes of arc at least and recommend 20 to 22 (ISO 9241-303, from memory); the smallest that a good eye can make out
 * is 5 (a line of 20/20 on an eye chart).
 */
export const LEAST_ARCMIN = 16;
export const GOOD_ARCMIN = 22;

/** Height of figures and capitals in the typeface of this app, as a share of its size (cap height 660 of 1,000 units). */
export const CAP_HEIGHT = 0.66;

/** Height of a letter [mm] that takes up so many minutes of arc at a distance [m]. */
export const letterHeight_mm = (arcmin: number, distance_m: number): number =>
  2 * distance_m * 1_000 * Math.tan((arcmin / 60 / 2) * (Math.PI / 180));

/** Minutes of arc that a letter of this height [mm] takes up at a distance [m]. */
export const letterAngle_arcmin = (height_mm: number, distance_m: number): number =>
  2 * Math.atan(height_mm / (2 * distance_m * 1_000)) * (180 / Math.PI) * 60;

/** Size of type [mm] whose figures take up so many minutes of arc at a distance [m]. */
export const typeSize_mm = (arcmin: number, distance_m: number): number =>
  letterHeight_mm(arcmin, distance_m) / CAP_HEIGHT;

/** Least side of what wet fingers are to hit [mm]; a choice, half as much again as what touch guidelines ask of dry ones. */
export const WET_TARGET_MM = 15;

/** Pixels of the page in a millimetre of glass: a guess by the kind of screen, to be replaced by a measured one. */
export function guessedPxPerMm(screen: { touch: boolean; short_px: number }): number {
  // CSS lets 96 pixels stand for an inch; phones draw about 153 to the inch, tablets about 132 (from memory).
  if (!screen.touch) return 96 / 25.4;
  return (screen.short_px < 600 ? 153 : 132) / 25.4;
}
