import { decode, encode } from 'jpeg-js';
import { normalCdf } from '../../special.ts';
import type { PhotoImage } from '../image.ts';
import { weightedQuantile } from '../summarise.ts';
import { asPhoto, type Camera, plainCamera, renderLight } from './render.ts';
import { type NumberMode, type Scatter, scatter } from './scatter.ts';
import { boxOf, dice, type Shape } from './shape.ts';

/** A picture with everything known about it. */
export interface Scene {
  name: string;
  image: PhotoImage;
  /** Side of a pixel of the sheet [µm]. */
  um_per_px: number;
  shapes: readonly Shape[];
  /** Field of the sheet that grains lie in [px]. */
  width: number;
  height: number;
  /** Modes the grains were drawn from. */
  modes: readonly NumberMode[];
}

/** What makes a scene. */
export interface SceneOrder extends Omit<Scatter, 'width' | 'height'> {
  name: string;
  seed: number;
  um_per_px: number;
  /** Share of the field that grains cover, about. */
  covered: number;
  camera?: Partial<Camera>;
  /** Quality of a JPEG the picture goes through; null keeps it as it is. */
  jpeg: number | null;
}

/** A scene without tilt: the sheet fills the picture. */
export function makeScene(order: SceneOrder): Scene {
  const random = dice(order.seed);
  const side = fieldSide(order);
  const width = Math.ceil(1.25 * side);
  const height = Math.ceil(0.8 * side);
  const shapes = scatter({ ...order, width, height }, random);
  const camera = { ...plainCamera(width, height), ...order.camera };
  const image = throughJpeg(asPhoto(renderLight(shapes, camera, random), width, height), order.jpeg);
  const { name, um_per_px, modes } = order;
  return { name, image, um_per_px, shapes, width, height, modes };
}

/** Side of a square field in which the grains cover the wanted share [px]. */
export function fieldSide({
  count,
  modes,
  covered,
}: Pick<SceneOrder, 'count' | 'modes' | 'covered'>): number {
  const area = modes.reduce(
    (sum, m) => sum + m.share * (Math.PI / 4) * m.median_px ** 2 * Math.exp(2 * Math.log(m.gsd) ** 2),
    0,
  );
  return Math.sqrt((count * area) / covered);
}

/** A picture after a JPEG of some quality; the same picture for null. */
export function throughJpeg(image: PhotoImage, quality: number | null): PhotoImage {
  if (quality === null) return image;
  const { data } = encode({ width: image.width, height: image.height, data: image.data }, quality);
  const decoded = decode(data, { useTArray: true, formatAsRGBA: true, maxMemoryUsageInMB: 2048 });
  return { width: decoded.width, height: decoded.height, data: decoded.data };
}

/** D10, D50 and D90 by volume of the grains that lie whole in the field, each standing for what Miles and Lantuéjoul give it [µm]. */
export function truthOf({ shapes, width, height, um_per_px }: Scene): [number, number, number] {
  const whole = shapes
    .map((shape) => ({ shape, box: boxOf(shape) }))
    .filter(({ box: [l, t, r, b] }) => l > 0 && t > 0 && r < width && b < height)
    .sort((a, b) => a.shape.radius - b.shape.radius);
  const logs = whole.map(({ shape }) => Math.log(2 * shape.radius * um_per_px));
  const volumes = whole.map(
    ({ shape, box: [l, t, r, b] }) => shape.radius ** 3 / ((1 - (r - l) / width) * (1 - (b - t) / height)),
  );
  return [0.1, 0.5, 0.9].map((at) => Math.exp(weightedQuantile(logs, volumes, at))) as [
    number,
    number,
    number,
  ];
}

/** D10, D50 and D90 by volume of the modes that the grains were drawn from [µm]: each mode by number moves by 3 ln² gsd (Hatch & Choate 1929). */
export function populationOf({ modes, um_per_px }: Scene): [number, number, number] {
  const byVolume = modes.map(({ share, median_px, gsd }) => {
    const s = Math.log(gsd);
    const m = Math.log(median_px * um_per_px);
    return { volume: share * Math.exp(3 * m + 4.5 * s * s), middle: m + 3 * s * s, s };
  });
  const total = byVolume.reduce((sum, m) => sum + m.volume, 0);
  return [0.1, 0.5, 0.9].map((at) => {
    let low = 0;
    let high = 20;
    for (let k = 0; k < 60; k++) {
      const x = (low + high) / 2;
      const below = byVolume.reduce((sum, m) => sum + m.volume * normalCdf((x - m.middle) / m.s), 0);
      if (below < at * total) low = x;
      else high = x;
    }
    return Math.exp((low + high) / 2);
  }) as [number, number, number];
}
