import { type Mask, squaredDistances } from './mask.ts';
import { areaInside, hullOf, outlineOf } from './outline.ts';

/** When a waist parts two grains. Waists are measured against the inner circle of the smaller side. */
export interface SplitRule {
  /** A narrower waist is a contact, whatever the shape. */
  waist: number;
  /** A waist between both is a contact when the outline turns in deeply enough beside it. */
  widest: number;
  /** How much the outline must turn in: what the hull of both has more than their own hulls, over the smaller area. */
  bay: number;
  /** The inner circle of the smaller side must stand out over the waist by this much [px]. */
  least: number;
}

/** What a mask was parted into. */
export interface Parts {
  /** Radius of the largest circle inside each part [px]. */
  inner: Float64Array;
  /** Squared distance of each pixel of the mask to the outside [px²]. */
  distance: Float64Array;
}

export const USUAL_SPLIT: SplitRule = { waist: 0.7, widest: 0.96, bay: 0.1, least: 0.4 };

/** Two basins that met. */
interface Waist {
  a: number;
  b: number;
  /** Half the width where they met, over the smaller inner circle. */
  ratio: number;
}

/**
 * Parts the grains of a mask that touch: a watershed on the distance to the edge. Pixels are taken from the innermost
 * outwards; where two basins meet, the waist between them is known. Narrow waists part grains, wide ones do not, and in between it
 * is the bays of the outline beside the waist that tell. Writes part numbers 1… into the mask.
 */
export function splitMask(mask: Mask, rule: SplitRule | null): Parts {
  const distance = squaredDistances(mask);
  if (rule === null) return { inner: Float64Array.of(Math.sqrt(largestOf(distance))), distance };
  const order = innermostFirst(mask, distance);
  const peak: number[] = [0];
  const parent: number[] = [0];
  const root = (k: number): number => {
    let r = k;
    while (parent[r]! !== r) r = parent[r]!;
    parent[k] = r;
    return r;
  };
  const basins = { label: new Int32Array(mask.part.length), peak, root, parent };
  joinConvex(mask, basins, flood(mask, distance, order, basins, rule), rule);
  return { inner: number(mask, basins).map((r) => peak[r]!), distance };
}

/** Basins while they grow. */
interface Basins {
  /** Basin of each pixel; 0 for none yet. */
  label: Int32Array;
  /** Radius of the inner circle of each basin [px]. */
  peak: number[];
  parent: number[];
  root(k: number): number;
}

/** Fills basins from the innermost pixels outwards and returns the waists where two met and stayed apart. */
function flood(
  { width }: Mask,
  distance: Float64Array,
  order: Int32Array,
  { label, peak, parent, root }: Basins,
  rule: SplitRule,
): Waist[] {
  const neighbours = [-width - 1, -width, -width + 1, -1, 1, width - 1, width, width + 1];
  const met = new Set<string>();
  const waists: Waist[] = [];
  for (const p of order) {
    // A pixel's middle lies half a pixel farther from the outside than from the edge.
    const here = Math.sqrt(distance[p]!) - 0.5;
    let home = 0;
    let nearest = -1;
    for (const step of neighbours) {
      const other = label[p + step]!;
      if (other === 0) continue;
      const r = root(other);
      if (home !== 0 && r !== home) {
        const [big, small] = peak[r]! > peak[home]! ? [r, home] : [home, r];
        const ratio = here / peak[small]!;
        if (ratio > rule.widest || peak[small]! - here < rule.least) {
          parent[small] = big;
          home = big;
          continue;
        }
        const key = `${Math.min(big, small)},${Math.max(big, small)}`;
        if (!met.has(key)) waists.push({ a: big, b: small, ratio });
        met.add(key);
      }
      if (distance[p + step]! > nearest) {
        nearest = distance[p + step]!;
        home = r;
      }
    }
    if (home === 0) {
      home = parent.length;
      parent.push(home);
      peak.push(here);
    }
    label[p] = home;
  }
  return waists;
}

/** Joins parts again whose waist is not narrow and beside which the outline hardly turns in, widest waist first. */
function joinConvex(mask: Mask, basins: Basins, waists: Waist[], rule: SplitRule): void {
  const { root, peak, parent } = basins;
  const doubtful = waists.filter((w) => w.ratio >= rule.waist).sort((p, q) => q.ratio - p.ratio);
  if (doubtful.length === 0) return;
  const boxes = boxesOf(mask, basins);
  for (const waist of doubtful) {
    const a = root(waist.a);
    const b = root(waist.b);
    if (a === b) continue;
    const [big, small] = peak[a]! > peak[b]! ? [a, b] : [b, a];
    const box = around(boxes.get(big)!, boxes.get(small)!);
    const first = missingOf(mask, basins, box, [big]);
    const second = missingOf(mask, basins, box, [small]);
    const both = missingOf(mask, basins, box, [big, small]);
    const bay = (both.missing - first.missing - second.missing) / Math.min(first.area, second.area);
    if (bay >= rule.bay) continue;
    parent[small] = big;
    boxes.set(big, box);
  }
}

/** Left, top, right, bottom in a mask; the last two are not in it. */
type Box = readonly [number, number, number, number];

const around = (a: Box, b: Box): Box => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
];

function boxesOf({ width, part }: Mask, { label, root }: Basins): Map<number, Box> {
  const boxes = new Map<number, Box>();
  for (let p = 0; p < part.length; p++) {
    if (part[p]! === 0) continue;
    const r = root(label[p]!);
    const x = p % width;
    const y = (p - x) / width;
    const pixel: Box = [x, y, x + 1, y + 1];
    const known = boxes.get(r);
    if (!known) boxes.set(r, pixel);
    else if (x < known[0] || x >= known[2] || y >= known[3]) boxes.set(r, around(known, pixel));
  }
  return boxes;
}

/** Area of basins taken together, and what their convex hull has more [px²]. */
function missingOf(
  { width }: Mask,
  { label, root }: Basins,
  [left, top, right, bottom]: Box,
  basins: readonly number[],
): { area: number; missing: number } {
  const part = new Int32Array((right - left) * (bottom - top));
  for (let y = top, k = 0; y < bottom; y++)
    for (let x = left; x < right; x++, k++) {
      const basin = label[y * width + x]!;
      if (basin > 0 && basins.includes(root(basin))) part[k] = 1;
    }
  const cut: Mask = { width: right - left, height: bottom - top, x0: 0, y0: 0, part };
  const outline = outlineOf(cut, 1, part.indexOf(1));
  const area = areaInside(outline);
  return { area, missing: areaInside(hullOf(outline)) - area };
}

const largestOf = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), 0);

/** Pixels of a mask by falling distance: a counting sort, because squared distances are whole numbers. */
function innermostFirst({ part }: Mask, distance: Float64Array): Int32Array {
  const largest = largestOf(distance);
  const start = new Int32Array(largest + 2);
  let count = 0;
  for (let p = 0; p < part.length; p++)
    if (part[p]! > 0) {
      start[largest - distance[p]! + 1]!++;
      count++;
    }
  for (let k = 1; k < start.length; k++) start[k]! += start[k - 1]!;
  const order = new Int32Array(count);
  for (let p = 0; p < part.length; p++) if (part[p]! > 0) order[start[largest - distance[p]!]!++] = p;
  return order;
}

/** Writes part numbers 1… into a mask, in reading order; returns the basin of each. */
function number({ part }: Mask, { label, root }: Basins): Float64Array {
  const numbers = new Map<number, number>();
  for (let p = 0; p < part.length; p++) {
    if (part[p]! === 0) continue;
    const r = root(label[p]!);
    const k = numbers.get(r) ?? numbers.size + 1;
    numbers.set(r, k);
    part[p] = k;
  }
  return Float64Array.from(numbers.keys());
}
