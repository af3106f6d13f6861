import type { Group } from './palette.ts';

const TILE = 6;

/** Tiles made once for each group of a palette. */
const made = new WeakMap<Group, CanvasPattern | string>();

/** A repeating tile of one solute group: its shade with its hatching in `ink`. */
export function hatchPattern(
  ctx: CanvasRenderingContext2D,
  group: Group,
  ink: string,
): CanvasPattern | string {
  if (group.hatch === 'plain') return group.fill;
  const kept = made.get(group) ?? makeTile(ctx, group, ink);
  made.set(group, kept);
  return kept;
}

function makeTile(ctx: CanvasRenderingContext2D, group: Group, ink: string): CanvasPattern | string {
  const tile = document.createElement('canvas');
  tile.width = TILE;
  tile.height = TILE;
  const t = tile.getContext('2d');
  if (!t) return group.fill;
  t.fillStyle = group.fill;
  t.fillRect(0, 0, TILE, TILE);
  t.strokeStyle = ink;
  t.fillStyle = ink;
  t.globalAlpha = 0.45;
  t.lineWidth = 1;
  drawHatch(t, group.hatch);
  return ctx.createPattern(tile, 'repeat') ?? group.fill;
}

function drawHatch(t: CanvasRenderingContext2D, hatch: Group['hatch']): void {
  if (hatch === 'dots') {
    t.fillRect(1, 1, 1.5, 1.5);
    t.fillRect(4, 4, 1.5, 1.5);
    return;
  }
  t.beginPath();
  if (hatch === 'level') {
    t.moveTo(0, 3);
    t.lineTo(TILE, 3);
  } else {
    // Drawn thrice, one tile apart, so that the stroke joins across tile edges.
    for (const shift of [-TILE, 0, TILE]) {
      t.moveTo(shift, hatch === 'rising' ? TILE : 0);
      t.lineTo(shift + TILE, hatch === 'rising' ? 0 : TILE);
    }
  }
  t.stroke();
}
