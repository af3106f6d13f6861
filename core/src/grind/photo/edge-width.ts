import type { Blob } from './blobs.ts';
import type { GreyImage } from './image.ts';

/** Most places on outlines that are looked at. */
const MOST_PLACES = 6000;
/** Variance that a difference over two pixels adds to an edge [px²]. */
const DIFFERENCE_VARIANCE = 1 / 3;

/**
 * Blur of the edges of grains in a flattened picture: the standard deviation [px] of the Gaussian that would turn a sharp step into
 * them. On such an edge the steepest slope is contrast / (σ √2π); the median over places on outlines counts. NaN without
 * grains.
 */
export function edgeBlur(image: GreyImage, blobs: readonly Blob[]): number {
  const points = blobs.reduce((sum, blob) => sum + blob.outline.length / 2, 0);
  const skip = Math.max(1, Math.ceil(points / MOST_PLACES));
  const found: number[] = [];
  let count = 0;
  for (const blob of blobs) {
    const { outline } = blob;
    for (let k = 0; k < outline.length; k += 2) {
      if (count++ % skip !== 0) continue;
      const slope = steepest(image, outline[k]!, outline[k + 1]!, blob.x, blob.y);
      if (slope > 0) found.push((1 - blob.light) / (slope * Math.sqrt(2 * Math.PI)));
    }
  }
  if (found.length === 0) return Number.NaN;
  found.sort((a, b) => a - b);
  return Math.sqrt(Math.max(0, found[found.length >> 1]! ** 2 - DIFFERENCE_VARIANCE));
}

/** Steepest rise of light along the line outwards through an edge point, within 2 px [1/px]. */
function steepest(image: GreyImage, x: number, y: number, fromX: number, fromY: number): number {
  const length = Math.hypot(x - fromX, y - fromY);
  if (length < 1) return 0;
  const ux = (x - fromX) / length;
  const uy = (y - fromY) / length;
  let best = 0;
  for (let t = -2; t <= 2; t += 0.5) {
    const px = Math.floor(x + t * ux);
    const py = Math.floor(y + t * uy);
    if (px < 1 || py < 1 || px >= image.width - 1 || py >= image.height - 1) continue;
    const at = py * image.width + px;
    const gx = (image.data[at + 1]! - image.data[at - 1]!) / 2;
    const gy = (image.data[at + image.width]! - image.data[at - image.width]!) / 2;
    best = Math.max(best, Math.hypot(gx, gy));
  }
  return best;
}
