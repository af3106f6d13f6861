import type { PhotoGrain, Sizing } from '@pourline/core';

type Kept = Extract<Sizing['data'], { by: 'photo' }>['grains'][number];

/** The part of the picture that holds all grains with a place [px]; null when none has one. */
export function sheetBox(
  grains: readonly Kept[],
  pixel_um: number,
): { left: number; top: number; width: number; height: number } | null {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x_px, y_px, diameter_um } of grains) {
    if (x_px === null || y_px === null) continue;
    const radius = diameter_um / pixel_um / 2;
    left = Math.min(left, x_px - radius);
    top = Math.min(top, y_px - radius);
    right = Math.max(right, x_px + radius);
    bottom = Math.max(bottom, y_px + radius);
  }
  if (!(right > left)) return null;
  return { left, top, width: right - left, height: Math.max(1, bottom - top) };
}

/** The grains that carry most of the volume, with their share of what is counted, largest first. */
export function largestGrains(grains: readonly Kept[], count: number): { index: number; share: number }[] {
  const volume = (grain: Kept): number => grain.weight * grain.diameter_um ** 3;
  const all = grains.reduce((sum, grain) => sum + (grain.counted ? volume(grain) : 0), 0);
  return grains
    .map((grain, index) => ({ index, share: all > 0 ? volume(grain) / all : 0 }))
    .sort((a, b) => b.share - a.share)
    .slice(0, count);
}

/** Whether a point lies within a closed outline of x and y by turns (even–odd rule). */
export function isInside(outline: ArrayLike<number>, x: number, y: number): boolean {
  let inside = false;
  const n = outline.length / 2;
  for (let i = 0, j = n - 1; i < n; j = i++) {
    const [xi, yi] = [outline[2 * i]!, outline[2 * i + 1]!];
    const [xj, yj] = [outline[2 * j]!, outline[2 * j + 1]!];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** The grain under a point, else the nearest whose middle lies within `reach` [px]; null when there is none. */
export function grainAt(
  grains: readonly PhotoGrain[],
  x: number,
  y: number,
  reach: number,
): PhotoGrain | null {
  const under = grains.find(
    (grain) =>
      Math.hypot(grain.x_px - x, grain.y_px - y) <= Math.max(...grain.box_px) &&
      isInside(grain.outline_px, x, y),
  );
  if (under) return under;
  let best: PhotoGrain | null = null;
  let least = reach;
  for (const grain of grains) {
    const away = Math.hypot(grain.x_px - x, grain.y_px - y);
    if (away < least) [best, least] = [grain, away];
  }
  return best;
}

/** An outline as a path. */
export function outlinePath(outline: ArrayLike<number>): string {
  let path = '';
  for (let i = 0; i < outline.length; i += 2)
    path += `${i ? 'L' : 'M'}${outline[i]!.toFixed(1)} ${outline[i + 1]!.toFixed(1)}`;
  return `${path}Z`;
}
