import { pourEnd } from '@pourline/core';
import { ACTION_ROOM, LABEL_ROOM } from '../kernels/hands-layout.ts';
import { paintGround } from './ground.ts';
import { paintCup, paintDrip, paintHead, paintHeat, paintSolutes, paintWater } from './lanes.ts';
import { paintMeasured } from './measured.ts';
import { DASH, inside, xOf } from './pen.ts';
import type { LanePen, Rooms, Scene } from './scene.ts';

/** Paints all lanes. The hands themselves are elements over the canvas; here only what lies behind them. */
export function paintStrip(ctx: CanvasRenderingContext2D, scene: Scene, rooms: Rooms, ratio: number): void {
  const { layout } = scene;
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  ctx.clearRect(0, 0, layout.width, layout.height);
  ctx.globalAlpha = 1;
  paintGround(ctx, scene);
  ctx.globalAlpha = scene.stale ? 0.45 : 1;
  for (const box of layout.lanes) {
    const pen: LanePen = { ctx, scene, box, path: rooms.path };
    switch (box.key) {
      case 'hands':
        paintHands(pen);
        break;
      case 'water':
        paintWater(pen);
        break;
      case 'heat':
        paintHeat(pen, rooms);
        break;
      case 'head':
        paintHead(pen);
        break;
      case 'drip':
        paintDrip(pen);
        break;
      case 'solutes':
        paintSolutes(pen, rooms);
        break;
      case 'cup':
        paintCup(pen, rooms);
        break;
    }
    paintMeasured(pen);
  }
  ctx.globalAlpha = 1;
}

/** The ground line of the hands lane, and the pours of the plan behind. */
function paintHands(pen: LanePen): void {
  const { ctx, scene, box } = pen;
  const { palette, ghost } = scene;
  const base = box.plot.top + box.plot.height - ACTION_ROOM;
  ctx.fillStyle = palette.lineStrong;
  ctx.fillRect(box.plot.left, base, box.plot.width, 1);
  if (!ghost) return;
  const most = [...scene.plan.pours, ...ghost.plan.pours].reduce((max, p) => Math.max(max, p.water_g), 20);
  const full = box.plot.height - ACTION_ROOM - LABEL_ROOM;
  const scale = Math.ceil(most / 20) * 20;
  inside(pen, () => {
    ctx.strokeStyle = palette.water.ink;
    ctx.lineWidth = 1;
    ctx.setLineDash([...DASH.ghost]);
    for (const pour of ghost.plan.pours) {
      const x = xOf(pen, pour.start_s);
      const height = (pour.water_g / scale) * full;
      ctx.strokeRect(x + 0.5, base - height + 0.5, Math.max(3, xOf(pen, pourEnd(pour)) - x) - 1, height - 1);
    }
    ctx.setLineDash([]);
  });
}

/** The crosshair on its own narrow canvas of `width` [px], with a dot where it crosses a lane's lines. */
export function paintCrosshair(
  ctx: CanvasRenderingContext2D,
  scene: Scene,
  width: number,
  ratio: number,
  dots: readonly { y: number; colour: string }[],
): void {
  const { layout, palette } = scene;
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  ctx.clearRect(0, 0, width, layout.height);
  ctx.fillStyle = palette.ink;
  // On a narrow strip the headings stand between the lanes; the line leaves them readable.
  for (const [i, lane] of layout.lanes.entries()) {
    const from = layout.narrow || i === 0 ? lane.plot.top : lane.top - 12;
    ctx.fillRect(width / 2, from, 1, lane.plot.top + lane.plot.height - from);
  }
  for (const dot of dots) {
    ctx.beginPath();
    ctx.arc(width / 2 + 0.5, dot.y, 3.5, 0, 2 * Math.PI);
    ctx.fillStyle = dot.colour;
    ctx.fill();
    ctx.lineWidth = 1.5;
    ctx.strokeStyle = palette.raised;
    ctx.stroke();
  }
}
