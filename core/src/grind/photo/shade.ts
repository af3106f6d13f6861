import type { Blob } from './blobs.ts';
import type { GreyImage } from './image.ts';
import type { Levels } from './threshold.ts';

/** Directions around a grain, and how far outside its edge the sheet is looked at [px]. */
const DIRECTIONS = 16;
const OUT = [3, 4, 5] as const;
/** Grains that are looked at. */
const MOST = 400;

/**
 * Shadow that grains throw to one side, as a share of the contrast: how much darker the sheet just outside is on the darkest
 * side than on the opposite one, averaged over grains that stand alone.
 */
export function sideShade(image: GreyImage, blobs: readonly Blob[], { grain }: Levels): number {
  const alone = blobs.filter((b) => !b.atBorder && b.patch === 1 && b.inner > 4);
  const skip = Math.max(1, Math.ceil(alone.length / MOST));
  const light = new Float64Array(DIRECTIONS);
  const count = new Float64Array(DIRECTIONS);
  for (let k = 0; k < alone.length; k += skip) {
    const { outline, x, y } = alone[k]!;
    for (let j = 0; j < outline.length; j += 2) {
      const dx = outline[j]! - x;
      const dy = outline[j + 1]! - y;
      const length = Math.hypot(dx, dy);
      const side = Math.round(((Math.atan2(dy, dx) / (2 * Math.PI)) * DIRECTIONS + DIRECTIONS) % DIRECTIONS);
      for (const out of OUT) {
        const px = Math.floor(outline[j]! + (out * dx) / length);
        const py = Math.floor(outline[j + 1]! + (out * dy) / length);
        if (px < 0 || py < 0 || px >= image.width || py >= image.height) continue;
        light[side % DIRECTIONS]! += image.data[py * image.width + px]!;
        count[side % DIRECTIONS]!++;
      }
    }
  }
  const mean = light.map((sum, k) => (count[k]! > 0 ? sum / count[k]! : 1));
  let most = 0;
  for (let k = 0; k < DIRECTIONS; k++)
    most = Math.max(most, mean[(k + DIRECTIONS / 2) % DIRECTIONS]! - mean[k]!);
  return most / Math.max(0.05, 1 - grain);
}
