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
  drawMarks(pen, frame, scales.poured, 'right');
  inside(pen, () => {
    if (ghost?.result) {
      const t = ghost.result.trace;
      strokeRow(pen, t.time_s, t.pour_g_s, verticalOf(frame, scales.flow), ghostStyle(palette.water.ink));
      strokeRow(pen, t.time_s, t.poured_g, verticalOf(frame, scales.poured), ghostStyle(palette.water.ink));
    }
    if (!result) return;
    const { time_s, pour_g_s, poured_g } = result.trace;
    const base = frame.top + frame.height;
    fillRow(pen, time_s, pour_g_s, verticalOf(frame, scales.flow), base, palette.water.soft);
    strokeRow(pen, time_s, pour_g_s, verticalOf(frame, scales.flow), { colour: palette.water.line });
    strokeRow(pen, time_s, poured_g, verticalOf(frame, scales.poured), {
      colour: palette.water.ink,
      dash: 'dash',
      width: 1.5,
    });
  });
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
  const x = Math.min(xOf(pen, at) + 5, layout.narrow ? edge - 2 : edge + 6);
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
      align: layout.narrow && x > edge - 46 ? 'right' : 'left',
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
    const room = pen.box.plot.left + pen.box.plot.width - x;
    write(pen, `${words.drawdown} ${words.clock(Math.round(drawdown_s))}`, x, y - 19, {
      colour: palette.ink,
      size: 11.5,
      weight: 500,
      align: room < 60 ? 'right' : 'center',
      halo: palette.raised,
    });
  });
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
}

/** The cup: strength of what is in the server, and its mass. */
export function paintCup(pen: LanePen, rooms: Rooms): void {
  const { palette, scales, result, ghost, bands } = pen.scene;
  const frame = whole(pen);
  drawMarks(pen, frame, scales.strength);
  drawMarks(pen, frame, scales.mass, 'right');
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
}
