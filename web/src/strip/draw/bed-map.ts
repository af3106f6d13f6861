import { css, parseHex } from '../kernels/colour.ts';
import { isolines, sampleField } from '../kernels/isotherms.ts';
import { toPx } from '../kernels/time-axis.ts';
import { HEAT_RANGE_C, HEAT_STEPS } from './palette.ts';
import { type Frame, inside, write, xOf } from './pen.ts';
import type { LanePen, Rooms } from './scene.ts';

/** Columns of the map: one for every few pixels, so that a drag stays light. */
const COLUMN_PX = 3;
const ISOTHERMS = [30, 40, 50, 60, 70, 80, 90];

/** The bed by depth (down) and time (across) as colour, with lines of equal temperature and the places asked for. */
export function paintBedMap(pen: LanePen, rooms: Rooms, frame: Frame): void {
  const { ctx, scene, box } = pen;
  const { result, palette, axis, words, layout } = scene;
  const { left, width } = box.plot;
  ctx.fillStyle = palette.sunken;
  ctx.fillRect(left, frame.top, width, frame.height);
  if (result && result.trace.cells > 0) {
    const { time_s, bed_C, cells, saturation } = result.trace;
    const columns = Math.max(2, Math.round(axis.width_px / COLUMN_PX));
    rooms.field = sampleField(axis, time_s, bed_C, cells, columns, rooms.field ?? undefined, saturation);
    paintColours(pen, rooms, frame);
    paintIsotherms(pen, rooms, frame);
    paintVisits(pen, frame);
  }
  const side = layout.narrow ? left + 4 : left - 7;
  const align = layout.narrow ? 'left' : 'right';
  const style = {
    colour: palette.ink3,
    size: 11,
    align,
    ...(layout.narrow ? { halo: palette.raised } : {}),
  } as const;
  write(pen, words.bedTop, side, frame.top + 7, style);
  write(pen, words.bedBottom, side, frame.top + frame.height - 7, style);
}

function paintColours(pen: LanePen, rooms: Rooms, frame: Frame): void {
  const { ctx, scene, box } = pen;
  const field = rooms.field!;
  rooms.map ??= document.createElement('canvas');
  const map = rooms.map;
  if (map.width !== field.columns || map.height !== field.rows) {
    map.width = field.columns;
    map.height = field.rows;
  }
  const m = map.getContext('2d', { willReadFrequently: false });
  if (!m) return;
  const image = m.createImageData(field.columns, field.rows);
  const { heatRamp } = scene.palette;
  const [low, high] = HEAT_RANGE_C;
  for (let i = 0; i < field.values.length; i++) {
    const value = field.values[i]!;
    if (Number.isNaN(value)) continue;
    const step = Math.round(Math.min(1, Math.max(0, (value - low) / (high - low))) * (HEAT_STEPS - 1));
    image.data[i * 4] = heatRamp[step * 3]!;
    image.data[i * 4 + 1] = heatRamp[step * 3 + 1]!;
    image.data[i * 4 + 2] = heatRamp[step * 3 + 2]!;
    image.data[i * 4 + 3] = 255;
  }
  m.putImageData(image, 0, 0);
  ctx.imageSmoothingEnabled = true;
  ctx.drawImage(map, box.plot.left, frame.top, box.plot.width, frame.height);
}

function paintIsotherms(pen: LanePen, rooms: Rooms, frame: Frame): void {
  const { ctx, scene, box } = pen;
  const field = rooms.field!;
  const perColumn = box.plot.width / field.columns;
  const perRow = frame.height / field.rows;
  const { palette } = scene;
  const named: [number, number][] = [];
  inside(
    pen,
    () => {
      for (const [k, segments] of isolines(field, ISOTHERMS).entries()) {
        const level = ISOTHERMS[k]!;
        if (segments.length === 0) continue;
        ctx.beginPath();
        for (const [x0, y0, x1, y1] of segments) {
          ctx.moveTo(box.plot.left + (x0 + 0.5) * perColumn, frame.top + (y0 + 0.5) * perRow);
          ctx.lineTo(box.plot.left + (x1 + 0.5) * perColumn, frame.top + (y1 + 0.5) * perRow);
        }
        ctx.strokeStyle = css(parseHex(palette.ink), palette.dark ? 0.5 : 0.42);
        ctx.lineWidth = 0.75;
        ctx.stroke();
        labelIsotherm(pen, segments, level, perColumn, perRow, frame, named);
      }
    },
    0,
  );
}

/** Names an isotherm once, where it lies near the middle of the bed and runs rather level. */
function labelIsotherm(
  pen: LanePen,
  segments: readonly (readonly [number, number, number, number])[],
  level: number,
  perColumn: number,
  perRow: number,
  frame: Frame,
  named: [number, number][],
): void {
  const { scene, box } = pen;
  let best: readonly [number, number] | null = null;
  let score = Number.POSITIVE_INFINITY;
  for (const [x0, y0, x1, y1] of segments) {
    const x = (x0 + 0.5) * perColumn;
    const y = ((y0 + y1) / 2 + 0.5) * perRow;
    if (x < 22 || x > box.plot.width - 22 || y < 8 || y > frame.height - 8) continue;
    if (named.some(([a, b]) => Math.abs(a - x) < 34 && Math.abs(b - y) < 15)) continue;
    const steep = Math.abs(y1 - y0) * perRow - Math.abs(x1 - x0) * perColumn;
    const off = Math.abs(y / frame.height - 0.5) * 12 + Math.max(0, steep) * 4 - x / box.plot.width;
    if (off < score) {
      score = off;
      best = [x, y];
    }
  }
  if (!best) return;
  named.push([best[0], best[1]]);
  write(pen, `${level}°`, box.plot.left + best[0], frame.top + best[1], {
    colour: scene.palette.ink,
    size: 10.5,
    weight: 600,
    align: 'center',
    halo: css(parseHex(scene.palette.paper), 0.7),
  });
}

/** Frames the parts of the bed that were near the temperature asked for. */
function paintVisits(pen: LanePen, frame: Frame): void {
  const { ctx, scene, box } = pen;
  const { palette, axis } = scene;
  inside(
    pen,
    () => {
      for (const visit of scene.visits) {
        const x = xOf(pen, visit.from_s);
        const width = Math.max(3, toPx(axis, visit.to_s) - toPx(axis, visit.from_s));
        const y = frame.top + visit.depth_from * frame.height;
        const height = Math.max(3, (visit.depth_to - visit.depth_from) * frame.height);
        ctx.strokeStyle = palette.paper;
        ctx.lineWidth = 4;
        ctx.strokeRect(x, y + 1, width, height - 2);
        ctx.strokeStyle = palette.ink;
        ctx.lineWidth = 2;
        ctx.strokeRect(x, y + 1, width, height - 2);
      }
    },
    0,
  );
  ctx.strokeStyle = palette.lineStrong;
  ctx.lineWidth = 1;
  ctx.strokeRect(box.plot.left + 0.5, frame.top + 0.5, box.plot.width - 1, frame.height - 1);
}
