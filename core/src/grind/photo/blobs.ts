import type { Patch, Window } from './components.ts';
import type { GreyImage } from './image.ts';
import { fillHoles, type Mask, maskOf } from './mask.ts';
import { areaInside, hullOf, lengthAround, outlineOf, type Points, simplify } from './outline.ts';
import { type Parts, type SplitRule, splitMask } from './split.ts';

/** One grain in pixels of the picture, as segmentation finds it. */
export interface Blob {
  /** Centre of its area [px]. */
  x: number;
  y: number;
  /** Pixels it covers. */
  pixels: number;
  /** Second moments of its area about the centre, with those of the pixel itself [px²]. */
  xx: number;
  xy: number;
  yy: number;
  left: number;
  top: number;
  right: number;
  bottom: number;
  /** Closed line around it, few points [px]. */
  outline: Points;
  /** [px] */
  perimeter: number;
  /** Its area over that of its convex hull. */
  solidity: number;
  /** Radius of the largest circle inside [px]. */
  inner: number;
  /** Mean light away from its edge; the sheet is 1. */
  light: number;
  /** Grains found in the patch it was part of: 1 stands alone. */
  patch: number;
  atBorder: boolean;
}

/** An outline may leave the traced edge by this much [px]. */
const OUTLINE_SLACK = 0.7;

/** Takes a patch apart into grains. */
export function blobsOf(patch: Patch, image: GreyImage, window: Window, rule: SplitRule | null): Blob[] {
  const mask = maskOf(patch);
  fillHoles(mask, image, patch.area);
  const parts = splitMask(mask, rule);
  const { inner } = parts;
  const sums = momentSums(mask, parts, image);
  return Array.from(inner, (radius, k) =>
    blobOf(mask, k + 1, radius, sums, inner.length, patch.atBorder ? window : null),
  );
}

/** Numbers kept for each part: pixels, Σx, Σy, Σx², Σxy, Σy², left, top, right, bottom, first pixel, pixels of the core, Σ light of it. */
const KEPT = 13;
/** The core of a grain is farther from its edge than this share of its inner circle. */
const CORE = 0.5;

function momentSums(mask: Mask, { inner, distance }: Parts, image: GreyImage): Float64Array {
  const sums = new Float64Array(KEPT * inner.length);
  const { width, height, part } = mask;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const k = part[y * width + x]!;
      if (k === 0) continue;
      const s = KEPT * (k - 1);
      if (sums[s] === 0) {
        sums[s + 6] = x;
        sums[s + 7] = y;
        sums[s + 10] = y * width + x;
      }
      sums[s]! += 1;
      sums[s + 1]! += x;
      sums[s + 2]! += y;
      sums[s + 3]! += x * x;
      sums[s + 4]! += x * y;
      sums[s + 5]! += y * y;
      sums[s + 6] = Math.min(sums[s + 6]!, x);
      sums[s + 8] = Math.max(sums[s + 8]!, x + 1);
      sums[s + 9] = Math.max(sums[s + 9]!, y + 1);
      if (distance[y * width + x]! < (CORE * inner[k - 1]!) ** 2) continue;
      sums[s + 11]! += 1;
      sums[s + 12]! += image.data[(mask.y0 + y) * image.width + mask.x0 + x]!;
    }
  return sums;
}

function blobOf(
  mask: Mask,
  part: number,
  inner: number,
  sums: Float64Array,
  parts: number,
  border: Window | null,
): Blob {
  const at = (k: number): number => sums[KEPT * (part - 1) + k]!;
  const pixels = at(0);
  const x = at(1) / pixels;
  const y = at(2) / pixels;
  const traced = outlineOf(mask, part, at(10));
  const outline = simplify(traced, OUTLINE_SLACK);
  return {
    x: mask.x0 + x + 0.5,
    y: mask.y0 + y + 0.5,
    pixels,
    xx: at(3) / pixels - x * x + 1 / 12,
    xy: at(4) / pixels - x * y,
    yy: at(5) / pixels - y * y + 1 / 12,
    left: mask.x0 + at(6),
    top: mask.y0 + at(7),
    right: mask.x0 + at(8),
    bottom: mask.y0 + at(9),
    outline,
    perimeter: lengthAround(outline),
    solidity: Math.min(1, areaInside(traced) / Math.max(1e-9, areaInside(hullOf(traced)))),
    inner,
    light: at(12) / Math.max(1, at(11)),
    patch: parts,
    atBorder: border !== null && reachesBorder(traced, border),
  };
}

/** Whether a traced edge runs along the border of a window. */
function reachesBorder(traced: Points, { height, left, right }: Window): boolean {
  for (let k = 0; k < traced.length; k += 2) {
    const x = traced[k]!;
    const y = traced[k + 1]!;
    // A point in the middle of an upright side belongs to one row, in the middle of a level one to two.
    for (const row of [Math.ceil(y - 1), Math.floor(y)])
      if (row < 0 || row >= height || x <= left[row]! || x >= right[row]!) return true;
  }
  return false;
}
