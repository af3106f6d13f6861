import { pourDuration, pourEnd } from '@pourline/core';
import { spreadLabels } from '../kernels/labels.ts';
import { stackRows, valueAt } from '../kernels/trace-path.ts';
import { paintBedMap } from './bed-map.ts';
import { hatchPattern } from './hatch.ts';
import {
  drawMarks,
  type Frame,
  fillBetween,
  fillRow,
  inside,
  strokeRow,
  verticalOf,
  write,
  writeMarks,
  xOf,
  yOf,
} from './pen.ts';
import { type LanePen, type Rooms, strengthShown } from './scene.ts';

const whole = (pen: LanePen): Frame => ({ top: pen.box.plot.top, height: pen.box.plot.height });

/** Water in: flow as an area, what was poured so far as a line. */
export function paintWater(pen: LanePen): void {
  const { palette, scales, result, ghost } = pen.scene;
  const frame = whole(pen);
  drawMarks(pen, frame, scales.flow);
  inside(pen, () => {
    if (ghost?.result) {
      const t = ghost.result.trace;
      strokeRow(pen, t.time_s, t.pour_g_s, verticalOf(frame, scales.flow), ghostStyle(palette.water.ink));
      strokeRow(pen, t.time_s, t.poured_g, verticalOf(frame, scales.poured), ghostStyle(palette.water.ink));
    }
    if (!result) return;
    const { time_s, poured_g } = result.trace;
    paintPours(pen, frame);
    strokeRow(pen, time_s, poured_g, verticalOf(frame, scales.poured), {
      colour: palette.water.ink,
      dash: 'dash',
      width: 1.5,
    });
  });
  writeMarks(pen, frame, scales.flow);
  writeMarks(pen, frame, scales.poured, 'right');
}

/** The flow of the plan's own pours: exact steps, where a sampled trace would show slopes. */
function paintPours(pen: LanePen, frame: Frame): void {
  const { ctx, scene, box } = pen;
  const { palette, plan, scales } = scene;
  const base = frame.top + frame.height;
  ctx.fillStyle = palette.water.soft;
  ctx.strokeStyle = palette.water.line;
  ctx.lineWidth = 1.75;
  ctx.beginPath();
  ctx.moveTo(box.plot.left, base);
  for (const pour of [...plan.pours].sort((a, b) => a.start_s - b.start_s)) {
    const from = xOf(pen, pour.start_s);
    const to = xOf(pen, pourEnd(pour));
    const y = yOf(frame, scales.flow, pour.water_g / pourDuration(pour));
    ctx.fillRect(from, y, to - from, base - y);
    for (const [x, at] of [
      [from, base],
      [from, y],
      [to, y],
      [to, base],
    ] as const)
      ctx.lineTo(x, at);
  }
  ctx.lineTo(box.plot.left + box.plot.width, base);
  ctx.stroke();
}

const ghostStyle = (colour: string) => ({ colour, dash: 'ghost', width: 1, alpha: 0.75 }) as const;

/** Height of the bed map inside the heat lane. */
const MAP_SHARE = 0.36;

export function heatFrames(plot: { top: number; height: number }): { lines: Frame; map: Frame } {
  const map = Math.round(plot.height * MAP_SHARE);
  return {
    lines: { top: plot.top, height: plot.height - map - 12 },
    map: { top: plot.top + plot.height - map, height: map },
  };
}

/** Temperatures: lines for stream, head and three depths of the bed, and the whole bed by depth below them. */
export function paintHeat(pen: LanePen, rooms: Rooms): void {
  const { palette, scales, result, ghost, bands } = pen.scene;
  const { lines, map } = heatFrames(pen.box.plot);
  drawMarks(pen, lines, scales.temperature);
  const v = verticalOf(lines, scales.temperature);
  inside(pen, () => {
    if (bands)
      fillBetween(
        pen,
        rooms.other,
        bands.time_s,
        { values: bands.bed_high_C },
        { values: bands.bed_low_C },
        v,
        palette.heat.soft,
        0.75,
      );
    if (ghost?.result) {
      const t = ghost.result.trace;
      for (const row of [t.bed_top_C, t.bed_middle_C, t.bed_bottom_C])
        strokeRow(pen, t.time_s, row, v, ghostStyle(palette.heat.ink));
    }
    if (!result) return;
    const t = result.trace;
    strokeRow(pen, t.time_s, streamShown(t.stream_C, t.pour_g_s), v, {
      colour: palette.water.line,
      width: 2.5,
    });
    strokeRow(pen, t.time_s, t.head_C, v, { colour: palette.water.ink, dash: 'dot', width: 1.75 });
    strokeRow(pen, t.time_s, t.bed_top_C, v, { colour: palette.heat.line, width: 2 });
    strokeRow(pen, t.time_s, t.bed_middle_C, v, { colour: palette.heat.line, dash: 'dash' });
    strokeRow(pen, t.time_s, t.bed_bottom_C, v, { colour: palette.heat.ink, dash: 'dashDot' });
  });
  if (result) labelDepths(pen, lines);
  paintBedMap(pen, rooms, map);
  writeMarks(pen, lines, scales.temperature);
}

/** The stream's temperature while there is a stream. */
function streamShown(stream_C: Float64Array, pour_g_s: Float64Array): Float64Array {
  return stream_C.map((value, i) => (pour_g_s[i]! > 0 ? value : Number.NaN));
}

/** Names the three bed lines at the right edge, moved apart where they run together. */
function labelDepths(pen: LanePen, frame: Frame): void {
  const { scene, box } = pen;
  const { result, axis, words, palette, scales, layout } = scene;
  if (!result) return;
  const t = result.trace;
  const last = t.time_s[t.time_s.length - 1] ?? 0;
  const at = Math.min(axis.to_s, last) - 1e-9;
  const rows = [
    { name: words.top, value: valueAt(t.time_s, t.bed_top_C, at) },
    { name: words.middle, value: valueAt(t.time_s, t.bed_middle_C, at) },
    { name: words.bottom, value: valueAt(t.time_s, t.bed_bottom_C, at) },
  ].filter((row) => Number.isFinite(row.value));
  const edge = box.plot.left + box.plot.width;
  const end = xOf(pen, at);
  const leftwards = layout.narrow && end > edge - 50;
  const x = leftwards ? end - 5 : Math.min(end + 6, edge + 6);
  const heights = spreadLabels(
    rows.map((row) => yOf(frame, scales.temperature, row.value)),
    13,
    frame.top + 6,
    frame.top + frame.height - 6,
  );
  rows.forEach((row, i) => {
    write(pen, row.name, x, heights[i]!, {
      colour: palette.heat.ink,
      size: 11,
      align: leftwards ? 'right' : 'left',
      halo: palette.raised,
    });
  });
}

/** Liquid over the bed, with the moment its surface reaches the bed. */
export function paintHead(pen: LanePen): void {
  const { palette, scales, result, ghost, words } = pen.scene;
  const frame = whole(pen);
  drawMarks(pen, frame, scales.head);
  const v = verticalOf(frame, scales.head);
  inside(pen, () => {
    if (ghost?.result)
      strokeRow(pen, ghost.result.trace.time_s, ghost.result.trace.head_mm, v, ghostStyle(palette.water.ink));
    if (!result) return;
    const { time_s, head_mm } = result.trace;
    fillRow(pen, time_s, head_mm, v, frame.top + frame.height, palette.water.soft);
    strokeRow(pen, time_s, head_mm, v, { colour: palette.water.line });
    const { drawdown_s } = result.cup;
    if (drawdown_s === null) return;
    const x = xOf(pen, drawdown_s);
    const y = frame.top + frame.height;
    pen.ctx.fillStyle = palette.ink;
    pen.ctx.beginPath();
    pen.ctx.moveTo(x, y);
    pen.ctx.lineTo(x - 5, y - 9);
    pen.ctx.lineTo(x + 5, y - 9);
    pen.ctx.fill();
    // Left of its mark: the crosshair rests at the last drops, close by on the right.
    write(pen, `${words.drawdown} ${words.clock(Math.round(drawdown_s))}`, x - 9, y - 8, {
      colour: palette.ink,
      size: 12,
      weight: 560,
      align: 'right',
      halo: palette.raised,
    });
  });
  writeMarks(pen, frame, scales.head);
}

/** What drips into the server. */
export function paintDrip(pen: LanePen): void {
  const { palette, scales, result, ghost } = pen.scene;
  const frame = whole(pen);
  drawMarks(pen, frame, scales.drip);
  const v = verticalOf(frame, scales.drip);
  inside(pen, () => {
    if (ghost?.result)
      strokeRow(pen, ghost.result.trace.time_s, ghost.result.trace.drip_g_s, v, ghostStyle(palette.flow.ink));
    if (!result) return;
    const { time_s, drip_g_s } = result.trace;
    fillRow(pen, time_s, drip_g_s, v, frame.top + frame.height, palette.flow.soft);
    strokeRow(pen, time_s, drip_g_s, v, { colour: palette.flow.line });
  });
  writeMarks(pen, frame, scales.drip);
}

/** What leaves the grounds, by solute group, one on the other. */
export function paintSolutes(pen: LanePen, rooms: Rooms): void {
  const { ctx } = pen;
  const { palette, scales, result, ghost } = pen.scene;
  const frame = whole(pen);
  drawMarks(pen, frame, scales.release);
  const v = verticalOf(frame, scales.release);
  inside(pen, () => {
    if (result) {
      const { time_s, release_mg_s } = result.trace;
      const n = time_s.length;
      const count = n > 0 ? release_mg_s.length / n : 0;
      rooms.stack = stackRows(release_mg_s, count, n, rooms.stack ?? undefined);
      for (let k = 0; k < count; k++) {
        const group = palette.groups[k % palette.groups.length]!;
        const fill = hatchPattern(ctx, group, palette.ink);
        fillBetween(
          pen,
          rooms.other,
          time_s,
          { values: rooms.stack, offset: (k + 1) * n },
          { values: rooms.stack, offset: k * n },
          v,
          fill,
        );
        strokeRow(pen, time_s, rooms.stack, v, { colour: palette.raised, width: 0.75 }, (k + 1) * n);
      }
      strokeRow(pen, time_s, rooms.stack, v, { colour: palette.solutes.ink, width: 1.25 }, count * n);
    }
    if (!ghost?.result) return;
    const t = ghost.result.trace;
    const n = t.time_s.length;
    const count = n > 0 ? t.release_mg_s.length / n : 0;
    const sums = stackRows(t.release_mg_s, count, n);
    strokeRow(pen, t.time_s, sums, v, ghostStyle(palette.ink), count * n);
  });
  writeMarks(pen, frame, scales.release);
}

/** The cup: strength of what is in the server, and its mass. */
export function paintCup(pen: LanePen, rooms: Rooms): void {
  const { palette, scales, result, ghost, bands } = pen.scene;
  const frame = whole(pen);
  drawMarks(pen, frame, scales.strength);
  const strength = verticalOf(frame, scales.strength);
  const mass = verticalOf(frame, scales.mass);
  inside(pen, () => {
    if (bands) {
      const mask = (values: Float64Array): Float64Array =>
        values.map((x, i) => (bands.beverage_low_g[i]! >= 4 ? x : Number.NaN));
      fillBetween(
        pen,
        rooms.other,
        bands.time_s,
        { values: mask(bands.strength_high_pct) },
        { values: mask(bands.strength_low_pct) },
        strength,
        palette.solutes.soft,
        0.75,
      );
      fillBetween(
        pen,
        rooms.other,
        bands.time_s,
        { values: bands.beverage_high_g },
        { values: bands.beverage_low_g },
        mass,
        palette.flow.soft,
        0.6,
      );
    }
    if (ghost?.result) {
      const t = ghost.result.trace;
      strokeRow(pen, t.time_s, strengthShown(ghost.result), strength, ghostStyle(palette.solutes.ink));
      strokeRow(pen, t.time_s, t.beverage_g, mass, ghostStyle(palette.flow.ink));
    }
    if (!result) return;
    const { time_s, beverage_g } = result.trace;
    strokeRow(pen, time_s, beverage_g, mass, { colour: palette.flow.line, dash: 'dash' });
    strokeRow(pen, time_s, strengthShown(result), strength, { colour: palette.solutes.line, width: 2.25 });
  });
  writeMarks(pen, frame, scales.strength);
  writeMarks(pen, frame, scales.mass, 'right');
}
