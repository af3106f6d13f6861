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

/** Darker than this it is another grain. */
const NO_SHEET = 0.65;

/**
 * Mean light of the sheet just outside a grain, past the blur of its edge [px]: below 1 in a shadow. Places where another grain
 * lies are left out; 1 when there is no other.
 */
export function sheetAround(image: GreyImage, { outline, x, y }: Blob, blur: number): number {
  const out = 1 + 2.5 * blur;
  let sum = 0;
  let count = 0;
  for (let k = 0; k < outline.length; k += 2) {
    const dx = outline[k]! - x;
    const dy = outline[k + 1]! - y;
    const share = 1 + out / Math.max(1, Math.hypot(dx, dy));
    const px = Math.floor(x + share * dx);
    const py = Math.floor(y + share * dy);
    if (px < 0 || py < 0 || px >= image.width || py >= image.height) continue;
    const light = image.data[py * image.width + px]!;
    if (!(light > NO_SHEET)) continue;
    sum += Math.min(1.1, light);
    count++;
  }
  return count > 0 ? sum / count : 1;
}
