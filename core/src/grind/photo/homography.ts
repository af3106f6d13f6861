import { fitRows } from './linear-solve.ts';

/** A point [x, y]. */
export type Point = readonly [x: number, y: number];

/** A plane seen in perspective: (x, y) ↦ ((ax + by + c) / w, (dx + ey + f) / w), w = gx + hy + 1; [a … h]. */
export type Homography = Float64Array;

/**
 * Homography that takes `from` to `to`, least squares over four or more pairs: the direct linear method with the lower right
 * entry 1, on points moved and scaled to around 1 (Hartley & Zisserman, Multiple View Geometry, 2004, §4.4), weighted once by
 * the denominator so that true distances are minimised. Null when the points do not fix it.
 */
export function findHomography(from: readonly Point[], to: readonly Point[]): Homography | null {
  const a = toUnit(from);
  const b = toUnit(to);
  let weights = from.map(() => 1);
  let h: Float64Array | null = null;
  for (let round = 0; round < 3; round++) {
    h = fitRows(
      8,
      from.flatMap((_, k) => {
        const [x, y] = a.apply(from[k]!);
        const [u, v] = b.apply(to[k]!);
        const weight = weights[k]!;
        return [
          { a: [x, y, 1, 0, 0, 0, -u * x, -u * y], b: u, weight },
          { a: [0, 0, 0, x, y, 1, -v * x, -v * y], b: v, weight },
        ];
      }),
    );
    if (!h) return null;
    const [g, k] = [h[6]!, h[7]!];
    weights = from.map((p) => {
      const [x, y] = a.apply(p);
      return 1 / Math.max(1e-3, g * x + k * y + 1) ** 2;
    });
  }
  return h ? between(a, h, b) : null;
}

/** Where a homography takes a point. */
export function applyHomography(h: Homography, [x, y]: Point): Point {
  const w = h[6]! * x + h[7]! * y + 1;
  return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w];
}

/** Derivative of a homography at a point: [∂u/∂x, ∂u/∂y, ∂v/∂x, ∂v/∂y]. */
export function jacobianOf(h: Homography, [x, y]: Point): readonly [number, number, number, number] {
  const w = h[6]! * x + h[7]! * y + 1;
  const [u, v] = applyHomography(h, [x, y]);
  return [(h[0]! - u * h[6]!) / w, (h[1]! - u * h[7]!) / w, (h[3]! - v * h[6]!) / w, (h[4]! - v * h[7]!) / w];
}

interface Unit {
  apply(p: Point): Point;
  x: number;
  y: number;
  scale: number;
}

function toUnit(points: readonly Point[]): Unit {
  const x = points.reduce((sum, p) => sum + p[0], 0) / points.length;
  const y = points.reduce((sum, p) => sum + p[1], 0) / points.length;
  const size = points.reduce((sum, p) => sum + Math.hypot(p[0] - x, p[1] - y), 0) / points.length || 1;
  return { x, y, scale: 1 / size, apply: (p) => [(p[0] - x) / size, (p[1] - y) / size] };
}

/** Undoes the two changes of units around a homography: b⁻¹ · h · a. */
function between(a: Unit, h: Float64Array, b: Unit): Homography | null {
  const rows = [
    [h[0]!, h[1]!, h[2]!],
    [h[3]!, h[4]!, h[5]!],
    [h[6]!, h[7]!, 1],
  ].map(([p, q, r]) => [p! * a.scale, q! * a.scale, r! - a.scale * (p! * a.x + q! * a.y)]) as [
    number[],
    number[],
    number[],
  ];
  const out = [0, 1, 2].flatMap((j) => [
    rows[0][j]! / b.scale + b.x * rows[2][j]!,
    rows[1][j]! / b.scale + b.y * rows[2][j]!,
    rows[2][j]!,
  ]);
  const w = out[8]!;
  if (!(Math.abs(w) > 1e-12)) return null;
  return Float64Array.of(
    out[0]! / w,
    out[3]! / w,
    out[6]! / w,
    out[1]! / w,
    out[4]! / w,
    out[7]! / w,
    out[2]! / w,
    out[5]! / w,
  );
}
