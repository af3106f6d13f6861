import { eachRow, type GreyImage, type Tick } from './image.ts';

/** Rows of a convex part of a picture: row y holds pixels from `left[y]` up to, without, `right[y]`. */
export interface Window {
  width: number;
  height: number;
  left: Int32Array;
  right: Int32Array;
}

/** A connected patch of dark pixels, as runs along rows. */
export interface Patch {
  /** Three numbers a run: row, first pixel, end (not in it). Rows rise. */
  runs: Int32Array;
  /** [px] */
  area: number;
  left: number;
  top: number;
  /** Not in it. */
  right: number;
  /** Not in it. */
  bottom: number;
  /** Touches the border of the window. */
  atBorder: boolean;
}

/** The window of a rectangle. */
export function rectangleWindow(
  width: number,
  height: number,
  box: { left: number; top: number; right: number; bottom: number },
): Window {
  const left = new Int32Array(height);
  const right = new Int32Array(height);
  for (let y = Math.max(0, Math.ceil(box.top)); y < Math.min(height, box.bottom); y++) {
    left[y] = Math.max(0, Math.ceil(box.left));
    right[y] = Math.max(left[y]!, Math.min(width, Math.floor(box.right)));
  }
  return { width, height, left, right };
}

/** The window of a convex polygon, its corners [x, y] in order. */
export function polygonWindow(
  width: number,
  height: number,
  corners: readonly (readonly [number, number])[],
): Window {
  const left = new Int32Array(height);
  const right = new Int32Array(height);
  for (let y = 0; y < height; y++) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    corners.forEach(([x1, y1], k) => {
      const [x2, y2] = corners[(k + 1) % corners.length]!;
      const middle = y + 0.5;
      if (middle < y1 === middle < y2) return;
      const x = x1 + ((middle - y1) / (y2 - y1)) * (x2 - x1);
      low = Math.min(low, x);
      high = Math.max(high, x);
    });
    left[y] = Math.min(width, Math.max(0, Math.ceil(low - 0.5)));
    right[y] = Math.max(left[y]!, Math.min(width, Math.floor(high + 0.5)));
    if (!(high > low)) left[y] = right[y] = 0;
  }
  return { width, height, left, right };
}

/**
 * Patches of pixels darker than `threshold` inside a window; pixels that touch at a corner belong together. Patches of fewer
 * than `least` pixels are left out and counted. Runs are joined by union–find, so one pass over the picture is
 * enough.
 */
export function findPatches(
  { width, height, data }: GreyImage,
  window: Window,
  threshold: number,
  least: number,
  tick: Tick,
): { patches: Patch[]; specks: number } {
  const rows = new Grower();
  const from = new Grower();
  const to = new Grower();
  const parent = new Grower();
  const root = (k: number): number => {
    let r = k;
    while (parent.at(r) !== r) {
      parent.put(r, parent.at(parent.at(r)));
      r = parent.at(r);
    }
    return r;
  };
  let above = 0;
  eachRow(height, tick, (y) => {
    const here = rows.length;
    let next = above;
    const start = y * width;
    const end = window.right[y]!;
    for (let x = window.left[y]!; x < end; x++) {
      if (!(data[start + x]! < threshold)) continue;
      const x0 = x;
      while (x < end && data[start + x]! < threshold) x++;
      const k = rows.length;
      rows.push(y);
      from.push(x0);
      to.push(x);
      parent.push(k);
      while (next < here && to.at(next) < x0) next++;
      for (let j = next; j < here && from.at(j) <= x; j++) {
        const a = root(j);
        const b = root(k);
        if (a < b) parent.put(b, a);
        else parent.put(a, b);
      }
    }
    above = here;
  });
  return gather(window, rows, from, to, root, least);
}

function gather(
  window: Window,
  rows: Grower,
  from: Grower,
  to: Grower,
  root: (k: number) => number,
  least: number,
): { patches: Patch[]; specks: number } {
  const count = rows.length;
  const runs = new Int32Array(count);
  const area = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    const r = root(k);
    runs[r]!++;
    area[r]! += to.at(k) - from.at(k);
  }
  const patchOf = new Int32Array(count).fill(-1);
  const patches: Patch[] = [];
  const filled: number[] = [];
  let specks = 0;
  for (let k = 0; k < count; k++) {
    const r = root(k);
    if (area[r]! < least) {
      if (r === k) specks++;
      continue;
    }
    if (patchOf[r]! < 0) {
      patchOf[r] = patches.length;
      patches.push(emptyPatch(runs[r]!, area[r]!));
      filled.push(0);
    }
    const p = patchOf[r]!;
    addRun(patches[p]!, 3 * filled[p]!++, rows.at(k), from.at(k), to.at(k), window);
  }
  return { patches, specks };
}

const emptyPatch = (runs: number, area: number): Patch => ({
  runs: new Int32Array(3 * runs),
  area,
  left: Number.MAX_SAFE_INTEGER,
  top: Number.MAX_SAFE_INTEGER,
  right: 0,
  bottom: 0,
  atBorder: false,
});

function addRun(patch: Patch, at: number, y: number, x0: number, x1: number, window: Window): void {
  patch.runs[at] = y;
  patch.runs[at + 1] = x0;
  patch.runs[at + 2] = x1;
  patch.left = Math.min(patch.left, x0);
  patch.right = Math.max(patch.right, x1);
  patch.top = Math.min(patch.top, y);
  patch.bottom = Math.max(patch.bottom, y + 1);
  if (patch.atBorder) return;
  for (const row of [y - 1, y, y + 1]) {
    const inside = row >= 0 && row < window.height;
    const left = inside ? window.left[row]! : 0;
    const right = inside ? window.right[row]! : 0;
    const margin = row === y ? 1 : 0;
    if (x0 < left + margin || x1 > right - margin) patch.atBorder = true;
  }
}

/** A list of whole numbers that grows without a box for each. */
class Grower {
  length = 0;
  #data = new Int32Array(1024);
  push(value: number): void {
    if (this.length === this.#data.length) {
      const larger = new Int32Array(2 * this.length);
      larger.set(this.#data);
      this.#data = larger;
    }
    this.#data[this.length++] = value;
  }
  at(k: number): number {
    return this.#data[k]!;
  }
  put(k: number, value: number): void {
    this.#data[k] = value;
  }
}
