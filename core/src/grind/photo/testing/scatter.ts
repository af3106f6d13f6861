import { boundOf, type Dice, randomShape, reach, type Shape } from './shape.ts';

/** A log-normal mode by number. */
export interface NumberMode {
  share: number;
  median_px: number;
  gsd: number;
}

/** How grains are scattered. */
export interface Scatter {
  count: number;
  modes: readonly NumberMode[];
  /** Field of the sheet [px]. */
  width: number;
  height: number;
  /** Share of grains that touch or overlap another. */
  touching: number;
  /** Grains may be cut by the border. */
  cut: boolean;
  /** Height of the waves of the outline, and spread of length over width. */
  rough: number;
  slender: number;
  /** Round places to keep free. */
  free?: readonly { x: number; y: number; radius: number }[];
}

/** Space kept between grains that do not touch [px]. */
const GAP = 4;
/** Overlap of touching grains, at most this share of the smaller radius. */
const OVERLAP = 0.25;

/** Scatters irregular grains with known areas. Grains that find no room are left out. */
export function scatter(order: Scatter, random: Dice): Shape[] {
  const radii = Array.from({ length: order.count }, () => drawRadius(order.modes, random));
  // Large ones first: they find no room later.
  radii.sort((a, b) => b - a);
  const shapes: Shape[] = [];
  const near = new Map<string, Shape[]>();
  const cell = 2.6 * radii[0]! + GAP;
  const attach = order.touching / 2;
  for (const radius of radii) {
    const shape = randomShape(radius, order.rough, order.slender, random);
    for (let tries = 0; tries < 200; tries++) {
      const host =
        random.even() < attach && shapes.length > 0
          ? shapes[Math.floor(random.even() * shapes.length)]!
          : null;
      if (host) putAt(shape, host, random);
      else putAnywhere(shape, order, random);
      if (!fits(shape, order) || collides(shape, host, near, cell)) continue;
      shapes.push(shape);
      const key = keyOf(shape.x, shape.y, cell);
      near.set(key, [...(near.get(key) ?? []), shape]);
      break;
    }
  }
  return shapes;
}

function drawRadius(modes: readonly NumberMode[], random: Dice): number {
  let u = random.even();
  for (const { share, median_px, gsd } of modes) {
    if (u < share) return (median_px / 2) * Math.exp(Math.log(gsd) * random.normal());
    u -= share;
  }
  return modes[0]!.median_px / 2;
}

function putAnywhere(shape: Shape, { width, height }: Scatter, random: Dice): void {
  shape.x = width * random.even();
  shape.y = height * random.even();
}

function putAt(shape: Shape, host: Shape, random: Dice): void {
  const direction = 2 * Math.PI * random.even();
  const overlap = OVERLAP * random.even() * Math.min(shape.radius, host.radius);
  const apart = reach(host, direction) + reach(shape, direction + Math.PI) - overlap;
  shape.x = host.x + apart * Math.cos(direction);
  shape.y = host.y + apart * Math.sin(direction);
}

function fits(shape: Shape, { width, height, cut, free }: Scatter): boolean {
  const room = boundOf(shape);
  if (free?.some((f) => Math.hypot(f.x - shape.x, f.y - shape.y) < f.radius + room)) return false;
  const within = (edge: number): boolean =>
    shape.x >= edge && shape.y >= edge && shape.x < width - edge && shape.y < height - edge;
  if (cut) return within(0);
  return within(room + GAP);
}

const keyOf = (x: number, y: number, cell: number): string =>
  `${Math.floor(x / cell)},${Math.floor(y / cell)}`;

function collides(shape: Shape, host: Shape | null, near: Map<string, Shape[]>, cell: number): boolean {
  for (let j = -1; j <= 1; j++)
    for (let i = -1; i <= 1; i++)
      for (const other of near.get(keyOf(shape.x + i * cell, shape.y + j * cell, cell)) ?? []) {
        if (other === host) continue;
        const apart = Math.hypot(other.x - shape.x, other.y - shape.y);
        const direction = Math.atan2(shape.y - other.y, shape.x - other.x);
        let closest = Number.POSITIVE_INFINITY;
        // Along the line of middles and beside it: irregular lines may bulge there.
        for (const side of [-0.6, -0.3, 0, 0.3, 0.6])
          closest = Math.min(
            closest,
            apart -
              (reach(other, direction + side) + reach(shape, direction + Math.PI - side)) * Math.cos(side),
          );
        if (closest < GAP) return true;
      }
  return false;
}
