import type { GreyImage } from '../image.ts';
import type { PhotoGrain, PhotoMeasurement } from '../result.ts';
import { type Camera, plainCamera, renderLight } from './render.ts';
import { dice, disc, type Shape } from './shape.ts';

/** A sharp, even, square-on picture of shapes, as light. */
export function plainPicture(
  width: number,
  height: number,
  shapes: readonly Shape[],
  camera: Partial<Camera> = {},
): GreyImage {
  const data = renderLight(shapes, { ...plainCamera(width, height), ...camera }, dice(1));
  return { width, height, data };
}

/** Discs of rising radius in rows, well apart. */
export function discRows(radii: readonly number[], pitch: number, columns: number): Shape[] {
  return radii.map((radius, k) =>
    disc(
      pitch * ((k % columns) + 0.5) + 0.37 * (k % 3),
      pitch * (Math.floor(k / columns) + 0.5) + 0.21 * (k % 5),
      radius,
    ),
  );
}

/** The grain whose middle lies nearest to a point. */
export function grainAt({ grains }: PhotoMeasurement, x: number, y: number): PhotoGrain {
  const sorted = [...grains].sort(
    (a, b) => Math.hypot(a.x_px - x, a.y_px - y) - Math.hypot(b.x_px - x, b.y_px - y),
  );
  const nearest = sorted[0];
  if (!nearest) throw new Error('grainAt: the picture has no grains');
  return nearest;
}

/** A measurement without a picture: grains of given diameters, all trusted, at 10 µm a pixel. */
export function measurementOf(
  diameters_um: readonly number[],
  weights?: readonly number[],
): PhotoMeasurement {
  return {
    width_px: 4000,
    height_px: 3000,
    grains: diameters_um.map((diameter_um, k) => ({
      id: k + 1,
      x_px: 0,
      y_px: 0,
      outline_px: new Float32Array(0),
      area_px: Math.PI * (diameter_um / 20) ** 2,
      moments_px: [1, 0, 1],
      box_px: [1, 1],
      perimeter_px: 1,
      solidity: 1,
      parted: 1,
      left_out: null,
      small: false,
      weight: weights?.[k] ?? 1,
      diameter_um,
      length_um: diameter_um,
      width_um: diameter_um,
      angle_deg: 0,
    })),
    plane: { by: 'pixel', um_per_px: 10, doubt: 0, homography: null, tilt_deg: null },
    field_px: [],
    blur_px: 0,
    grain_light: 0.05,
    noise: 0,
    evenness: 1,
    covered: 0.1,
    specks: 0,
    smallest_px: 10,
    remarks: [],
  };
}
