import type { Mask } from './mask.ts';

/** Points of a closed line, x and y by turns [2n]. */
export type Points = Float64Array;

/** Steps around a pixel corner: right, down, left, up. */
const DX = [1, 0, -1, 0] as const;
const DY = [0, 1, 0, -1] as const;

/**
 * Outer edge of one part of a mask, clockwise, through the middles of the sides where inside meets outside, in pixels of the picture: the
 * pixel (i, j) covers [i, i + 1] × [j, j + 1]. Where the part falls into pieces, the piece met first counts.
 */
export function outlineOf(mask: Mask, part: number, start: number): Points {
  const { width } = mask;
  const inside = (x: number, y: number): boolean =>
    x >= 0 && y >= 0 && x < width && y < mask.height && mask.part[y * width + x] === part;
  const x0 = start % width;
  const y0 = (start - x0) / width;
  const points: number[] = [];
  // Walks along pixel sides with the part on the right, from the top left corner of the first pixel.
  let x = x0;
  let y = y0;
  let heading = 0;
  do {
    points.push(mask.x0 + x + DX[heading]! / 2, mask.y0 + y + DY[heading]! / 2);
    x += DX[heading]!;
    y += DY[heading]!;
    heading = turn(inside, x, y, heading);
  } while (x !== x0 || y !== y0 || heading !== 0);
  return Float64Array.from(points);
}

/** Next heading at the corner (x, y). Pixels that touch at a corner stay together: left before straight before right. */
function turn(inside: (x: number, y: number) => boolean, x: number, y: number, heading: number): number {
  const ahead = (side: 'left' | 'right'): boolean => {
    // The two pixels that the corner has in front of it.
    const fx = DX[heading]!;
    const fy = DY[heading]!;
    const sx = side === 'right' ? -fy : fy;
    const sy = side === 'right' ? fx : -fx;
    return inside(x + (fx + sx - 1) / 2, y + (fy + sy - 1) / 2);
  };
  if (ahead('left')) return (heading + 3) % 4;
  if (ahead('right')) return heading;
  return (heading + 1) % 4;
}

/** Fewer points for the same line: none of those left out is farther than `most` [px] from it (Ramer 1972; Douglas & Peucker 1973). */
export function simplify(points: Points, most: number): Points {
  const n = points.length / 2;
  if (n < 8) return points;
  const keep = new Uint8Array(n);
  const half = farthest(points, 0);
  const stack: [number, number][] = [
    [0, half],
    [half, n],
  ];
  keep[0] = keep[half] = 1;
  for (let next = stack.pop(); next; next = stack.pop()) {
    const [a, b] = next;
    let worst = most;
    let at = -1;
    const ax = points[2 * a]!;
    const ay = points[2 * a + 1]!;
    const dx = points[2 * (b % n)]! - ax;
    const dy = points[2 * (b % n) + 1]! - ay;
    const length = Math.hypot(dx, dy) || 1;
    for (let k = a + 1; k < b; k++) {
      const off = Math.abs(dx * (points[2 * k + 1]! - ay) - dy * (points[2 * k]! - ax)) / length;
      if (off > worst) {
        worst = off;
        at = k;
      }
    }
    if (at < 0) continue;
    keep[at] = 1;
    stack.push([a, at], [at, b]);
  }
  const kept: number[] = [];
  for (let k = 0; k < n; k++) if (keep[k]) kept.push(points[2 * k]!, points[2 * k + 1]!);
  return Float64Array.from(kept);
}

function farthest(points: Points, from: number): number {
  let worst = -1;
  let at = from;
  for (let k = 0; 2 * k < points.length; k++) {
    const d = (points[2 * k]! - points[2 * from]!) ** 2 + (points[2 * k + 1]! - points[2 * from + 1]!) ** 2;
    if (d > worst) {
      worst = d;
      at = k;
    }
  }
  return at;
}

/** Area inside a closed line [px²], by the shoelace formula. */
export function areaInside(points: Points): number {
  let twice = 0;
  const n = points.length;
  for (let k = 0; k < n; k += 2) {
    const j = (k + 2) % n;
    twice += points[k]! * points[j + 1]! - points[j]! * points[k + 1]!;
  }
  return Math.abs(twice) / 2;
}

/** Length of a closed line [px]. */
export function lengthAround(points: Points): number {
  let sum = 0;
  const n = points.length;
  for (let k = 0; k < n; k += 2) {
    const j = (k + 2) % n;
    sum += Math.hypot(points[j]! - points[k]!, points[j + 1]! - points[k + 1]!);
  }
  return sum;
}

/** Convex hull (Andrew's monotone chain, Information Processing Letters 9, 216, 1979). */
export function hullOf(points: Points): Points {
  const order = Array.from({ length: points.length / 2 }, (_, k) => k).sort(
    (a, b) => points[2 * a]! - points[2 * b]! || points[2 * a + 1]! - points[2 * b + 1]!,
  );
  const chain = (ordered: readonly number[]): number[] => {
    const out: number[] = [];
    for (const k of ordered) {
      while (out.length > 1 && !turnsRight(points, out[out.length - 2]!, out[out.length - 1]!, k)) out.pop();
      out.push(k);
    }
    out.pop();
    return out;
  };
  const hull = [...chain(order), ...chain([...order].reverse())];
  return Float64Array.from(hull.flatMap((k) => [points[2 * k]!, points[2 * k + 1]!]));
}

function turnsRight(p: Points, a: number, b: number, c: number): boolean {
  const x = p[2 * a]!;
  const y = p[2 * a + 1]!;
  return (p[2 * b]! - x) * (p[2 * c + 1]! - y) - (p[2 * b + 1]! - y) * (p[2 * c]! - x) < 0;
}
