import type { Blob } from './blobs.ts';
import type { GreyImage } from './image.ts';
import { LEAST_ACROSS } from './options.ts';
import { type Plane, placeOn, planeJacobian } from './plane.ts';
import type { PhotoGrain } from './result.ts';
import { sheetAround } from './shade.ts';

/** What is known of the picture when blobs become grains. */
export interface Optics {
  /** The flattened picture. */
  image: GreyImage;
  /** Standard deviation of the blur in the picture that was cut [px]; 0 corrects nothing. */
  blur: number;
  threshold: number;
}

/** A longer thing than this many widths is a hair, a thread, a mark on a ruler. */
const THREAD = 5;

/**
 * Area of a blob with a sharp edge [px²]. Cut at half-way a blurred edge of a circle lies σ²/2R inside the true one, so a closed
 * outline lacks πσ²; and where the light of the grain itself or of its shadow puts the cut off half-way, the edge moves by σ times the
 * normal quantile of the cut.
 */
export function sharpArea(blob: Blob, { image, blur, threshold }: Optics): number {
  if (!(blur > 0) || blob.inner < 2 * blur) return blob.pixels;
  const sheet = sheetAround(image, blob, blur);
  const cut = Math.min(0.9, Math.max(0.1, (threshold - blob.light) / (sheet - blob.light)));
  return Math.max(1, blob.pixels + Math.PI * blur * blur - blob.perimeter * blur * normalQuantile(cut));
}

/** Normal quantile within 0.1 … 0.9: two terms of its series around ½, ample for moves of a tenth of a pixel. */
function normalQuantile(p: number): number {
  const u = (p - 0.5) * Math.sqrt(2 * Math.PI);
  return u + (u * u * u) / 6 + (7 * u ** 5) / 120;
}

/** Grains from blobs, in reading order, not yet sized. */
export function grainsOf(blobs: readonly Blob[], optics: Optics, smallest: number): PhotoGrain[] {
  const grains: PhotoGrain[] = [];
  for (const blob of [...blobs].sort((a, b) => a.y - b.y || a.x - b.x)) {
    const area = sharpArea(blob, optics);
    const across = 2 * Math.sqrt(area / Math.PI);
    if (across < LEAST_ACROSS) continue;
    const [long, wide] = ellipseAxes(blob.xx, blob.xy, blob.yy);
    grains.push({
      id: grains.length + 1,
      x_px: blob.x,
      y_px: blob.y,
      outline_px: Float32Array.from(blob.outline),
      area_px: area,
      moments_px: [blob.xx, blob.xy, blob.yy],
      box_px: [blob.right - blob.left, blob.bottom - blob.top],
      perimeter_px: blob.perimeter,
      solidity: blob.solidity,
      parted: blob.patch,
      left_out: blob.atBorder ? 'at border' : long > THREAD * wide ? 'thread' : null,
      small: across < smallest,
      weight: 1,
      diameter_um: Number.NaN,
      length_um: Number.NaN,
      width_um: Number.NaN,
      angle_deg: 0,
    });
  }
  return grains;
}

/** Full axes and direction [rad] of the ellipse with these second moments. */
export function ellipseAxes(xx: number, xy: number, yy: number): [long: number, wide: number, angle: number] {
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  return [
    4 * Math.sqrt(Math.max(0, middle + half)),
    4 * Math.sqrt(Math.max(0, middle - half)),
    Math.atan2(2 * xy, xx - yy) / 2,
  ];
}

/**
 * Sizes of grains on the sheet, and what each stands for. A grain w × h can lie whole in a field W × H only with its
 * middle in (W − w) × (H − h); its weight is the inverse, 1 for a point (Miles 1974, Lantuéjoul 1980).
 */
export function sizeGrains(
  grains: readonly PhotoGrain[],
  plane: Plane | null,
  field: readonly (readonly [number, number])[],
  largest_um: number,
): PhotoGrain[] {
  const [fieldWidth, fieldHeight] = extent(field.map((p) => (plane ? placeOn(plane, p) : p)));
  return grains.map((grain) => {
    const [a, b, c, d] = plane ? planeJacobian(plane, [grain.x_px, grain.y_px]) : [1, 0, 0, 1];
    const [w, h] = plane?.homography
      ? extentOnSheet(grain, [a, b, c, d])
      : [a * grain.box_px[0], d * grain.box_px[1]];
    const [xx, xy, yy] = grain.moments_px;
    const [long, wide, angle] = ellipseAxes(
      a * a * xx + 2 * a * b * xy + b * b * yy,
      a * c * xx + (a * d + b * c) * xy + b * d * yy,
      c * c * xx + 2 * c * d * xy + d * d * yy,
    );
    const unit = plane ? 1 : Number.NaN;
    const diameter = 2 * Math.sqrt((grain.area_px * Math.abs(a * d - b * c)) / Math.PI) * unit;
    const room = Math.max(0.05, 1 - w / fieldWidth) * Math.max(0.05, 1 - h / fieldHeight);
    const tooLarge = diameter > largest_um;
    return {
      ...grain,
      left_out: grain.left_out === null && tooLarge ? 'too large' : grain.left_out,
      weight: 1 / room,
      diameter_um: diameter,
      length_um: long * unit,
      width_um: wide * unit,
      angle_deg: (angle * 180) / Math.PI,
    };
  });
}

function extentOnSheet(
  { outline_px }: PhotoGrain,
  [a, b, c, d]: readonly [number, number, number, number],
): [number, number] {
  const points: [number, number][] = [];
  for (let k = 0; k < outline_px.length; k += 2) {
    const x = outline_px[k]!;
    const y = outline_px[k + 1]!;
    points.push([a * x + b * y, c * x + d * y]);
  }
  return extent(points);
}

function extent(points: readonly (readonly [number, number])[]): [number, number] {
  const x = points.map((p) => p[0]);
  const y = points.map((p) => p[1]);
  return [Math.max(...x) - Math.min(...x), Math.max(...y) - Math.min(...y)];
}
