import { type CardDesign, markPlaces, markSide } from './card.ts';
import type { Patch } from './components.ts';
import { applyHomography, findHomography, type Homography, type Point } from './homography.ts';

/** A card found in a picture. */
export interface FoundCard {
  /** From the picture to the card [mm]. */
  toCard: Homography;
  /** From the card [mm] to the picture. */
  toPicture: Homography;
  /** Marks that were matched, of eight. */
  marks: number;
  /** Root mean square of how far marks lie from where the plane has them [mm]. */
  miss_mm: number;
}

interface Mark {
  x: number;
  y: number;
  side: number;
}

/** Dark ring over its box, and middle over ring, in a mark that is not blurred: 24/49 and 9/24. Ranges allow for blur and tilt. */
const RING_FILL = [0.25, 0.72] as const;
const MIDDLE_OVER_RING = [0.2, 0.65] as const;
/** Marks of one card differ in size by no more than this, tilted or not. */
const SIZE_RANGE = 1.6;
/** A side mark may lie this far from its place [mark sides]. */
const NEAR = 0.35;

/** Finds the marks of a card among the dark patches of a picture. The number of marks seen comes along when it is not enough. */
export function findCard(
  patches: readonly Patch[],
  design: CardDesign,
): { card: FoundCard; seen: number } | { card: null; seen: number } {
  const marks = sameSize(findMarks(patches));
  const places = markPlaces(design);
  let best: FoundCard | null = null;
  for (const corners of cornerChoices(marks)) {
    const card = matchMarks(corners, marks, places, markSide(design));
    if (card && (!best || card.marks > best.marks)) best = card;
  }
  return { card: best, seen: marks.length };
}

/** Patches with a smaller one in their middle, in the proportions of a mark. */
export function findMarks(patches: readonly Patch[]): Mark[] {
  const marks: Mark[] = [];
  const boxed = (p: Patch) => (p.right - p.left) * (p.bottom - p.top);
  const rings = patches.filter((p) => {
    const fill = p.area / boxed(p);
    return !p.atBorder && p.area > 60 && fill > RING_FILL[0] && fill < RING_FILL[1];
  });
  for (const ring of rings) {
    const x = (ring.left + ring.right) / 2;
    const y = (ring.top + ring.bottom) / 2;
    const side = Math.sqrt(boxed(ring));
    const middle = patches.find(
      (p) =>
        p !== ring &&
        p.left > ring.left &&
        p.right < ring.right &&
        p.top > ring.top &&
        p.bottom < ring.bottom &&
        Math.hypot((p.left + p.right) / 2 - x, (p.top + p.bottom) / 2 - y) < 0.1 * side &&
        p.area > MIDDLE_OVER_RING[0] * ring.area &&
        p.area < MIDDLE_OVER_RING[1] * ring.area,
    );
    if (!middle) continue;
    const [cx, cy] = centreOf(middle);
    const [rx, ry] = centreOf(ring);
    marks.push({ x: (cx + rx) / 2, y: (cy + ry) / 2, side });
  }
  return marks;
}

function centreOf({ runs, area }: Patch): Point {
  let x = 0;
  let y = 0;
  for (let k = 0; k < runs.length; k += 3) {
    const length = runs[k + 2]! - runs[k + 1]!;
    x += (length * (runs[k + 1]! + runs[k + 2]!)) / 2;
    y += length * (runs[k]! + 0.5);
  }
  return [x / area, y / area];
}

function sameSize(marks: readonly Mark[]): Mark[] {
  const sides = marks.map((m) => m.side).sort((a, b) => a - b);
  const usual = sides[sides.length >> 1] ?? 0;
  return marks.filter((m) => m.side < SIZE_RANGE * usual && m.side > usual / SIZE_RANGE);
}

/** Sets of four marks that may be the corners, clockwise, the largest first. At most the largest forty. */
function cornerChoices(marks: readonly Mark[]): Mark[][] {
  const found: { corners: Mark[]; area: number }[] = [];
  const n = Math.min(marks.length, 14);
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++)
      for (let c = b + 1; c < n; c++)
        for (let d = c + 1; d < n; d++) {
          const corners = clockwise([marks[a]!, marks[b]!, marks[c]!, marks[d]!]);
          const area = areaOf(corners);
          if (area > 0) found.push({ corners, area });
        }
  found.sort((p, q) => q.area - p.area);
  return found.slice(0, 40).map((f) => f.corners);
}

function clockwise(marks: Mark[]): Mark[] {
  const x = marks.reduce((sum, m) => sum + m.x, 0) / 4;
  const y = marks.reduce((sum, m) => sum + m.y, 0) / 4;
  return marks.sort((p, q) => Math.atan2(p.y - y, p.x - x) - Math.atan2(q.y - y, q.x - x));
}

function areaOf(marks: readonly Mark[]): number {
  let twice = 0;
  marks.forEach((m, k) => {
    const next = marks[(k + 1) % marks.length]!;
    twice += m.x * next.y - next.x * m.y;
  });
  return twice / 2;
}

/** Lays the card on four corners, gathers the side marks near their places and fits again. At least two of them must be there. */
function matchMarks(
  corners: readonly Mark[],
  marks: readonly Mark[],
  places: readonly Point[],
  side_mm: number,
): FoundCard | null {
  const at = (m: Mark): Point => [m.x, m.y];
  const rough = findHomography(corners.map(at), places.slice(0, 4));
  if (!rough) return null;
  const from = corners.map(at);
  const to = places.slice(0, 4);
  for (const place of places.slice(4)) {
    const near = marks.find((m) => {
      const [x, y] = applyHomography(rough, at(m));
      return Math.hypot(x - place[0], y - place[1]) < NEAR * side_mm;
    });
    if (!near) continue;
    from.push(at(near));
    to.push(place);
  }
  if (from.length < 6) return null;
  const toCard = findHomography(from, to);
  const toPicture = findHomography(to, from);
  if (!toCard || !toPicture) return null;
  const squares = from.map((p, k) => {
    const [x, y] = applyHomography(toCard, p);
    return (x - to[k]![0]) ** 2 + (y - to[k]![1]) ** 2;
  });
  const miss_mm = Math.sqrt(squares.reduce((a, b) => a + b, 0) / squares.length);
  return { toCard, toPicture, marks: from.length, miss_mm };
}
