import { applyHomography, type Homography, type Point } from '../homography.ts';
import type { PhotoImage } from '../image.ts';
import { boundOf, type Dice, depth, type Shape } from './shape.ts';

/** Something flat on the sheet. */
export interface Thing {
  x: number;
  y: number;
  /** A circle of this radius around it holds it [px]. */
  bound: number;
  /** How far inside its edge a point lies [px]. */
  depth(x: number, y: number): number;
  /** Light it sends back at a point. */
  light(x: number, y: number): number;
}

/** A square, upright on the sheet. */
export const square = (x: number, y: number, side: number, light: number): Thing => ({
  x,
  y,
  bound: side * Math.SQRT1_2,
  depth: (px, py) => side / 2 - Math.max(Math.abs(px - x), Math.abs(py - y)),
  light: () => light,
});

const thingOf = (shape: Shape): Thing => ({
  x: shape.x,
  y: shape.y,
  bound: boundOf(shape),
  depth: (x, y) => depth(shape, x, y),
  light: (x, y) =>
    shape.light * (1 + shape.spots * Math.sin(x * 0.9 + shape.turn * 9) * Math.sin(y * 0.7 + shape.x)),
});

/** How a scene is lit and photographed. */
export interface Camera {
  width: number;
  height: number;
  /** From the sheet to the picture and back; null when both are the same. */
  toPicture: Homography | null;
  toSheet: Homography | null;
  /** Share of light lost across the picture, towards a direction [rad], and in the corners. */
  slope: number;
  towards: number;
  vignette: number;
  /** Share of light that a shadow takes, how far it is thrown [radii] and how soft it is [px]. */
  shadow: number;
  thrown: number;
  soft: number;
  /** Standard deviation of the blur [px], and of noise at white. */
  blur: number;
  noise: number;
}

/** Square-on, even light, sharp. */
export const plainCamera = (width: number, height: number): Camera => ({
  width,
  height,
  toPicture: null,
  toSheet: null,
  slope: 0,
  towards: 0,
  vignette: 0,
  shadow: 0,
  thrown: 0,
  soft: 2,
  blur: 0.7,
  noise: 0,
});

/** Light of the sheet before anything lies on it. */
const SHEET = 0.8;
/** Samples along each side of a pixel at edges. */
const FINE = 4;

/** Light of a scene [height × width], 1 is white: sheet, shadows, things and shapes in order, uneven light, blur, noise. */
export function renderLight(
  shapes: readonly Shape[],
  camera: Camera,
  random: Dice,
  things: readonly Thing[] = [],
): Float32Array {
  const { width, height } = camera;
  const light = new Float32Array(width * height).fill(SHEET);
  if (camera.shadow > 0) castShadows(light, shapes, camera);
  for (const thing of [...things, ...shapes.map(thingOf)])
    overBox(thing, camera, 0, (at, [x, y], cover) => {
      light[at] = light[at]! * (1 - cover) + SHEET * thing.light(x, y) * cover;
    });
  shine(light, camera);
  gaussianBlur(light, width, height, camera.blur);
  if (camera.noise > 0)
    for (let i = 0; i < light.length; i++)
      light[i]! += camera.noise * Math.sqrt(Math.max(0.01, light[i]!)) * random.normal();
  return light;
}

function castShadows(light: Float32Array, shapes: readonly Shape[], camera: Camera): void {
  const shade = new Float32Array(light.length);
  for (const shape of shapes) {
    const thrown = camera.thrown * shape.radius;
    const shadow = {
      ...shape,
      x: shape.x + thrown * Math.cos(camera.towards),
      y: shape.y + thrown * Math.sin(camera.towards),
    };
    overBox(thingOf(shadow), camera, camera.soft, (at, _, __, inside) => {
      const t = Math.min(1, Math.max(0, 0.5 + inside / (2 * camera.soft)));
      shade[at] = Math.max(shade[at]!, camera.shadow * t * t * (3 - 2 * t));
    });
  }
  for (let i = 0; i < light.length; i++) light[i]! *= 1 - shade[i]!;
}

/** Calls `put` for each pixel that a thing may reach, with the share of it that the thing covers and its depth. */
function overBox(
  thing: Thing,
  { width, height, toPicture, toSheet }: Camera,
  more: number,
  put: (at: number, point: Point, cover: number, inside: number) => void,
): void {
  const far = thing.bound + more + 3;
  const corners = [
    [-far, -far],
    [far, -far],
    [far, far],
    [-far, far],
  ].map(([dx, dy]): Point => {
    const p: Point = [thing.x + dx!, thing.y + dy!];
    return toPicture ? applyHomography(toPicture, p) : p;
  });
  const [left, right] = [Math.min(...corners.map((p) => p[0])), Math.max(...corners.map((p) => p[0]))];
  const [top, bottom] = [Math.min(...corners.map((p) => p[1])), Math.max(...corners.map((p) => p[1]))];
  const sheet = (x: number, y: number): Point => (toSheet ? applyHomography(toSheet, [x, y]) : [x, y]);
  for (let y = Math.max(0, Math.floor(top)); y < Math.min(height, bottom); y++)
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(width, right); x++) {
      const point = sheet(x + 0.5, y + 0.5);
      const apart = (point[0] - thing.x) ** 2 + (point[1] - thing.y) ** 2;
      if (apart > far * far) continue;
      const inside = thing.depth(point[0], point[1]);
      if (inside < -more - 3) continue;
      let cover = inside > 3 ? 1 : 0;
      if (Math.abs(inside) <= 3)
        for (let k = 0; k < FINE * FINE; k++) {
          const p = sheet(x + ((k % FINE) + 0.5) / FINE, y + (Math.floor(k / FINE) + 0.5) / FINE);
          if (thing.depth(p[0], p[1]) > 0) cover += 1 / (FINE * FINE);
        }
      put(y * width + x, point, cover, inside);
    }
}

function shine(light: Float32Array, { width, height, slope, towards, vignette }: Camera): void {
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const u = (2 * x) / width - 1;
      const v = (2 * y) / height - 1;
      const along = (u * Math.cos(towards) + v * Math.sin(towards) + Math.SQRT2) / (2 * Math.SQRT2);
      light[y * width + x]! *= (1 - slope * along) * (1 - (vignette * (u * u + v * v)) / 2);
    }
}

function gaussianBlur(data: Float32Array, width: number, height: number, sigma: number): void {
  if (!(sigma > 0)) return;
  const half = Math.ceil(3.5 * sigma);
  const kernel = Float32Array.from({ length: 2 * half + 1 }, (_, k) =>
    Math.exp(-0.5 * ((k - half) / sigma) ** 2),
  );
  const total = kernel.reduce((a, b) => a + b, 0);
  for (let k = 0; k < kernel.length; k++) kernel[k]! /= total;
  const padded = new Float32Array(Math.max(width, height) + 2 * half);
  const along = (count: number, start: number, step: number): void => {
    for (let k = 0; k < count; k++) padded[k + half] = data[start + k * step]!;
    padded.fill(padded[half]!, 0, half);
    padded.fill(padded[half + count - 1]!, half + count, count + 2 * half);
    for (let k = 0; k < count; k++) {
      let sum = 0;
      for (let j = 0; j < kernel.length; j++) sum += kernel[j]! * padded[k + j]!;
      data[start + k * step] = sum;
    }
  };
  for (let y = 0; y < height; y++) along(width, y * width, 1);
  for (let x = 0; x < width; x++) along(height, x, width);
}

/** Steps of a table from light to sRGB bytes; finer than a byte anywhere but in deep shade. */
const STEPS = 8192;
const SRGB = Float32Array.from({ length: STEPS + 1 }, (_, k) => {
  const u = k / STEPS;
  return 255 * (u <= 0.0031308 ? 12.92 * u : 1.055 * u ** (1 / 2.4) - 0.055);
});

/** A picture of light in sRGB bytes, slightly warm where it is dark, as coffee is. */
export function asPhoto(light: Float32Array, width: number, height: number): PhotoImage {
  const data = new Uint8ClampedArray(4 * width * height);
  const encode = (v: number): number => SRGB[Math.round(STEPS * Math.min(1, Math.max(0, v)))]!;
  for (let i = 0; i < light.length; i++) {
    const v = light[i]!;
    const warm = 0.25 * Math.max(0, 1 - v / SHEET);
    // What red gains green and blue lose, so that the luminance stays.
    data[4 * i] = encode(v * (1 + warm));
    data[4 * i + 1] = encode(v * (1 - (0.8 * warm * 0.2126) / 0.7152));
    data[4 * i + 2] = encode(v * (1 - (0.2 * warm * 0.2126) / 0.0722));
    data[4 * i + 3] = 255;
  }
  return { width, height, data };
}
