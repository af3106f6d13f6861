import { pourEnd } from '@pourline/core';
import { css } from '../kernels/colour.ts';
import { timeTicks, toPx } from '../kernels/time-axis.ts';
import type { Scene } from './scene.ts';

/** What runs through all lanes: hairlines at round times, a veil where water is poured, the lift. */
export function paintGround(ctx: CanvasRenderingContext2D, scene: Scene): void {
  const { layout, axis, palette, plan } = scene;
  const left = layout.plot_left;
  const right = left + layout.plot_width;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, 0, layout.plot_width, layout.height);
  ctx.clip();
  const x = (time_s: number): number => left + toPx(axis, time_s);
  for (const lane of layout.lanes) {
    const { top, height } = lane.plot;
    ctx.fillStyle = css(palette.water.rgb, palette.dark ? 0.13 : 0.08);
    for (const pour of plan.pours) {
      const from = x(pour.start_s);
      const to = x(pourEnd(pour));
      if (lane.key !== 'hands' && to > left && from < right)
        ctx.fillRect(from, top, Math.max(1, to - from), height);
    }
    ctx.fillStyle = palette.line;
    for (const tick of timeTicks(axis))
      if (tick.major) ctx.fillRect(Math.round(x(tick.time_s)), top, 1, height);
  }
  if (plan.lift_s !== null) verticalMark(ctx, scene, x(plan.lift_s), palette.ink2, [5, 4]);
  if (plan.outlet_opens_s !== null)
    verticalMark(ctx, scene, x(plan.outlet_opens_s), palette.flow.ink, [2, 3]);
  if (scene.now_s !== null) verticalMark(ctx, scene, x(scene.now_s), palette.alert, [], 2);
  ctx.restore();
}

function verticalMark(
  ctx: CanvasRenderingContext2D,
  scene: Scene,
  x: number,
  colour: string,
  dash: number[],
  width = 1,
): void {
  ctx.strokeStyle = colour;
  ctx.lineWidth = width;
  ctx.setLineDash(dash);
  for (const { plot } of scene.layout.lanes) {
    ctx.beginPath();
    ctx.moveTo(Math.round(x) + 0.5, plot.top);
    ctx.lineTo(Math.round(x) + 0.5, plot.top + plot.height);
    ctx.stroke();
  }
  ctx.setLineDash([]);
}

/** The time axis itself: ticks and clock times on its own canvas, which stays in view while the lanes scroll. */
export function paintAxis(ctx: CanvasRenderingContext2D, scene: Scene): void {
  const { layout, axis, palette } = scene;
  const { height } = layout.axis;
  ctx.clearRect(0, 0, layout.width, height);
  ctx.textBaseline = 'alphabetic';
  ctx.textAlign = 'center';
  ctx.font = `500 12px ${palette.font}`;
  for (const tick of timeTicks(axis)) {
    const x = Math.round(layout.plot_left + toPx(axis, tick.time_s));
    if (x < layout.plot_left - 1 || x > layout.plot_left + layout.plot_width + 1) continue;
    ctx.fillStyle = tick.major ? palette.lineStrong : palette.line;
    ctx.fillRect(x, height - (tick.major ? 9 : 5), 1, tick.major ? 9 : 5);
    if (!tick.major) continue;
    ctx.fillStyle = palette.ink2;
    ctx.fillText(scene.words.clock(tick.time_s), x, height - 13);
  }
  ctx.fillStyle = palette.lineStrong;
  ctx.fillRect(layout.plot_left, height - 1, layout.plot_width, 1);
}
