import { type Mask, squaredDistances } from './mask.ts';

/** When a waist parts two grains. */
export interface SplitRule {
  /** A waist narrower than this share of the smaller side's inner circle is a contact. */
  waist: number;
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

export const USUAL_SPLIT: SplitRule = { waist: 0.78, least: 1 };

/**
 * Parts the grains of a mask that touch: a watershed on the distance to the edge. Pixels are taken from the innermost
 * outwards; where two basins meet, the waist between them is known, and they stay two grains only while it is narrow
 * against the smaller one's inner circle. Writes part numbers 1… into the mask.
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
  const { width, part } = mask;
  const around = [-width - 1, -width, -width + 1, -1, 1, width - 1, width, width + 1];
  const label = new Int32Array(part.length);
  for (const p of order) {
    // A pixel's middle lies half a pixel farther from the outside than from the edge.
    const here = Math.sqrt(distance[p]!) - 0.5;
    let home = 0;
    let nearest = -1;
    for (const step of around) {
      const other = label[p + step]!;
      if (other === 0) continue;
      const r = root(other);
      if (home !== 0 && r !== home) {
        const [big, small] = peak[r]! > peak[home]! ? [r, home] : [home, r];
        if (here > rule.waist * peak[small]! || peak[small]! - here < rule.least) {
          parent[small] = big;
          home = big;
          continue;
        }
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
  return { inner: renumber(mask, label, root, peak), distance };
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

function renumber(
  { part }: Mask,
  label: Int32Array,
  root: (k: number) => number,
  peak: readonly number[],
): Float64Array {
  const number = new Map<number, number>();
  const inner: number[] = [];
  for (let p = 0; p < part.length; p++) {
    if (part[p]! === 0) continue;
    const r = root(label[p]!);
    let k = number.get(r);
    if (k === undefined) {
      k = number.size + 1;
      number.set(r, k);
      inner.push(peak[r]!);
    }
    part[p] = k;
  }
  return Float64Array.from(inner);
}
