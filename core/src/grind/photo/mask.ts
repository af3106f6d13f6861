import type { Patch } from './components.ts';
import type { GreyImage } from './image.ts';

/** A patch cut out of its picture with one empty pixel around it. */
export interface Mask {
  width: number;
  height: number;
  /** Picture column and row of the mask's first pixel. */
  x0: number;
  y0: number;
  /** [height × width]: 0 outside, a number above 0 inside (the part it belongs to). */
  part: Int32Array;
}

/** Lays a patch on a mask of its own; every pixel of it is 1. */
export function maskOf({ runs, left, top, right, bottom }: Patch): Mask {
  const width = right - left + 2;
  const height = bottom - top + 2;
  const part = new Int32Array(width * height);
  for (let k = 0; k < runs.length; k += 3) {
    const row = (runs[k]! - top + 1) * width;
    part.fill(1, row + runs[k + 1]! - left + 1, row + runs[k + 2]! - left + 1);
  }
  return { width, height, x0: left - 1, y0: top - 1, part };
}

/** A hole is a bright spot of the grain itself while it is at most this share of the patch. */
const SPOT_SHARE = 0.05;
/** A larger hole is filled only when its light is not that of the sheet. */
const SHEET_LIGHT = 0.85;

/**
 * Fills the holes of a mask that belong to a grain: bright spots on it, a glint, a dent. The sheet seen between grains that
 * ring it stays open.
 */
export function fillHoles(mask: Mask, image: GreyImage, area: number): void {
  const { width, height, part } = mask;
  const seen = new Uint8Array(width * height);
  const stack = new Int32Array(width * height);
  const flood = (start: number): number => {
    let size = 0;
    let open = 1;
    stack[0] = start;
    seen[start] = 1;
    // Popped entries stay below `size` in order, so the region can be read again afterwards.
    while (size < open) {
      const p = stack[size++]!;
      const x = p % width;
      const around = [x > 0 ? p - 1 : -1, x < width - 1 ? p + 1 : -1, p - width, p + width];
      for (const q of around) {
        if (q < 0 || q >= part.length || seen[q]! !== 0 || part[q]! !== 0) continue;
        seen[q] = 1;
        stack[open++] = q;
      }
    }
    return size;
  };
  flood(0);
  for (let p = 0; p < part.length; p++) {
    if (part[p]! !== 0 || seen[p]! !== 0) continue;
    const size = flood(p);
    let light = 0;
    for (let k = 0; k < size; k++) {
      const q = stack[k]!;
      const x = q % width;
      light += image.data[(mask.y0 + (q - x) / width) * image.width + mask.x0 + x]!;
    }
    if (size > SPOT_SHARE * area && light / size > SHEET_LIGHT) continue;
    for (let k = 0; k < size; k++) part[stack[k]!] = 1;
  }
}

/**
 * Squared distance of every pixel inside a mask to the nearest pixel outside, exact whole numbers [px²] (Felzenszwalb &
 * Huttenlocher, Theory of Computing 8, 415, 2012: the lower envelope of parabolas along columns, then rows).
 */
export function squaredDistances({ width, height, part }: Mask): Float64Array {
  const FAR = 1e12;
  const d = Float64Array.from(part, (p) => (p > 0 ? FAR : 0));
  const longest = Math.max(width, height);
  const line = new Float64Array(longest);
  const out = new Float64Array(longest);
  const vertex = new Int32Array(longest);
  const bound = new Float64Array(longest + 1);
  for (let x = 0; x < width; x++) {
    for (let y = 0; y < height; y++) line[y] = d[y * width + x]!;
    lowerEnvelope(line, height, out, vertex, bound);
    for (let y = 0; y < height; y++) d[y * width + x] = out[y]!;
  }
  for (let y = 0; y < height; y++) {
    const start = y * width;
    for (let x = 0; x < width; x++) line[x] = d[start + x]!;
    lowerEnvelope(line, width, out, vertex, bound);
    for (let x = 0; x < width; x++) d[start + x] = out[x]!;
  }
  return d;
}

function lowerEnvelope(
  f: Float64Array,
  n: number,
  out: Float64Array,
  vertex: Int32Array,
  bound: Float64Array,
): void {
  let k = 0;
  vertex[0] = 0;
  bound[0] = Number.NEGATIVE_INFINITY;
  bound[1] = Number.POSITIVE_INFINITY;
  for (let q = 1; q < n; q++) {
    let s: number;
    for (;;) {
      const v = vertex[k]!;
      s = (f[q]! + q * q - (f[v]! + v * v)) / (2 * (q - v));
      if (s > bound[k]! || k === 0) break;
      k--;
    }
    if (s <= bound[k]!) s = bound[k]!;
    k++;
    vertex[k] = q;
    bound[k] = s;
    bound[k + 1] = Number.POSITIVE_INFINITY;
  }
  k = 0;
  for (let q = 0; q < n; q++) {
    while (bound[k + 1]! < q) k++;
    const v = vertex[k]!;
    out[q] = (q - v) * (q - v) + f[v]!;
  }
}
