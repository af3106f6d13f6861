import type { Patch } from './components.ts';
import type { GreyImage } from './image.ts';
import { fitRows } from './linear-solve.ts';
import type { PicturePoint } from './options.ts';

/** A coin as the picture shows it. */
export interface FoundCoin {
  x: number;
  y: number;
  /** Mean radius [px]. */
  radius: number;
  /** Short over long axis; 1 is square-on. */
  roundness: number;
  /** Standard deviation of the rim about the fitted curve [px]. */
  rough: number;
}

const RAYS = 240;
/** A coin covers at least this much of the box around it (a full circle: π/4). */
const LEAST_FILL = 0.6;
const MOST_OBLONG = 1.35;
/** Rim points off the curve by more than this many usual misses are left out. */
const OUTLIER = 3;

/** The coin at a point, or the largest round patch of a picture. Null when nothing is round. */
export function findCoin(
  image: GreyImage,
  patches: readonly Patch[],
  threshold: number,
  near: PicturePoint | null,
): FoundCoin | null {
  const candidates = patches
    .filter((p) => !p.atBorder && (near ? holds(p, near) : looksRound(p)))
    .sort((a, b) => size(b) - size(a));
  for (const patch of candidates.slice(0, 8)) {
    const coin = fitRim(image, patch, threshold);
    if (coin && coin.roundness > 1 / MOST_OBLONG && coin.rough < 0.02 * coin.radius + 0.7) return coin;
  }
  return null;
}

const size = (p: Patch): number => Math.max(p.right - p.left, p.bottom - p.top);
const holds = (p: Patch, { x_px, y_px }: PicturePoint): boolean =>
  x_px >= p.left && x_px < p.right && y_px >= p.top && y_px < p.bottom;

function looksRound(p: Patch): boolean {
  const w = p.right - p.left;
  const h = p.bottom - p.top;
  return Math.max(w, h) < MOST_OBLONG * Math.min(w, h) && p.area > LEAST_FILL * w * h && w > 16;
}

/**
 * Rim of a coin: along rays from outside in, the first place darker than the threshold, between pixels. The rim is fitted as a
 * radius with one turn (the middle is off) and two turns (an ellipse) an angle.
 */
function fitRim(image: GreyImage, patch: Patch, threshold: number): FoundCoin | null {
  let x = (patch.left + patch.right) / 2;
  let y = (patch.top + patch.bottom) / 2;
  const outer = 0.5 * Math.hypot(patch.right - patch.left, patch.bottom - patch.top);
  let radius = size(patch) / 2;
  let result: FoundCoin | null = null;
  for (let round = 0; round < 4; round++) {
    const rim = rimPoints(image, x, y, Math.min(outer, 1.2 * radius), threshold);
    const fit = fitTurns(rim);
    if (!fit) return null;
    const [r, cos1, sin1, cos2, sin2] = fit.turns as unknown as [number, number, number, number, number];
    x += cos1;
    y += sin1;
    radius = r;
    const oval = Math.hypot(cos2, sin2) / r;
    result = { x, y, radius, roundness: (1 - oval) / (1 + oval), rough: fit.rough };
  }
  return result;
}

function rimPoints(
  image: GreyImage,
  x: number,
  y: number,
  from: number,
  threshold: number,
): { angle: number; r: number }[] {
  const rim: { angle: number; r: number }[] = [];
  for (let k = 0; k < RAYS; k++) {
    const angle = (2 * Math.PI * k) / RAYS;
    let before = Number.NaN;
    for (let r = from; r > 2; r -= 0.5) {
      const v = lightAt(image, x + r * Math.cos(angle), y + r * Math.sin(angle));
      if (v < threshold && before >= threshold) {
        rim.push({ angle, r: r + (0.5 * (threshold - v)) / (before - v) });
        break;
      }
      before = v;
    }
  }
  return rim;
}

function fitTurns(
  rim: readonly { angle: number; r: number }[],
): { turns: Float64Array; rough: number } | null {
  if (rim.length < RAYS / 2) return null;
  const rows = rim.map(({ angle, r }) => ({
    a: [1, Math.cos(angle), Math.sin(angle), Math.cos(2 * angle), Math.sin(2 * angle)],
    b: r,
    weight: 1,
  }));
  let turns: Float64Array | null = null;
  let rough = 0;
  for (let round = 0; round < 5; round++) {
    turns = fitRows(5, rows);
    if (!turns) return null;
    const x = turns;
    const miss = rows.map(({ a, b }) => Math.abs(b - a.reduce((sum, term, k) => sum + term * x[k]!, 0)));
    rough = [...miss].sort((p, q) => p - q)[miss.length >> 1]! / 0.6745;
    rows.forEach((row, k) => {
      row.weight = miss[k]! > OUTLIER * Math.max(rough, 0.2) ? 0 : 1;
    });
  }
  return turns && { turns, rough };
}

/** Light between pixel middles. */
function lightAt({ width, height, data }: GreyImage, x: number, y: number): number {
  const u = Math.min(width - 1.001, Math.max(0, x - 0.5));
  const v = Math.min(height - 1.001, Math.max(0, y - 0.5));
  const i = Math.floor(u);
  const j = Math.floor(v);
  const at = j * width + i;
  const below = Math.min(height - 1, j + 1) * width + i;
  const top = data[at]! + (u - i) * (data[at + 1]! - data[at]!);
  const bottom = data[below]! + (u - i) * (data[below + 1]! - data[below]!);
  return top + (v - j) * (bottom - top);
}
