import { applyHomography, type Homography, jacobianOf, type Point } from './homography.ts';

/** How pixels become lengths on the sheet. */
export interface Plane {
  by: 'pixel' | 'ruler' | 'coin' | 'card';
  /** Side of a pixel on the sheet, in the middle of the measured part [µm]. */
  um_per_px: number;
  /** Relative standard uncertainty of lengths. */
  doubt: number;
  /** From the picture to the sheet [µm]; null when one scale holds everywhere. */
  homography: Homography | null;
  /** Angle between the camera's axis and the upright on the sheet, as far as it shows [°]; null when unknown. */
  tilt_deg: number | null;
}

/** Derivative of the sheet by the picture at a point [µm/px]: [∂X/∂x, ∂X/∂y, ∂Y/∂x, ∂Y/∂y]. */
export function planeJacobian(plane: Plane, at: Point): readonly [number, number, number, number] {
  if (plane.homography) return jacobianOf(plane.homography, at);
  return [plane.um_per_px, 0, 0, plane.um_per_px];
}

/** Place on the sheet of a point of the picture [µm]. */
export function placeOn(plane: Plane, at: Point): Point {
  if (plane.homography) return applyHomography(plane.homography, at);
  return [at[0] * plane.um_per_px, at[1] * plane.um_per_px];
}
