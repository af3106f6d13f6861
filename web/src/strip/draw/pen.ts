import { toPx } from '../kernels/time-axis.ts';
import { buildLine, type PathBuffer, type Vertical } from '../kernels/trace-path.ts';
import { decimalsOf, marksOf, shareOf, type ValueScale } from '../kernels/value-scale.ts';
import type { LanePen } from './scene.ts';

/** Dash patterns; each tells a line apart without its colour. */
export const DASH = {
  solid: [],
  dash: [7, 4],
  dot: [1.5, 3.5],
  dashDot: [9, 3.5, 1.5, 3.5],
  ghost: [4, 3],
} as const satisfies Record<string, readonly number[]>;
export type Dash = keyof typeof DASH;

export interface LineStyle {
  colour: string;
  width?: number;
  dash?: Dash;
  alpha?: number;
}

/** A part of a lane with its own value scale [px, strip coordinates]. */
export interface Frame {
  top: number;
  height: number;
}

/** How values of a scale become heights in a frame. */
export function verticalOf(frame: Frame, scale: ValueScale): Vertical {
  const per_unit = -frame.height / (scale.high - scale.low);
  return { zero_px: frame.top + frame.height - scale.low * per_unit, per_unit };
}

export const yOf = (frame: Frame, scale: ValueScale, value: number): number =>
  frame.top + frame.height * (1 - shareOf(scale, value));

/** Position of a moment on the strip [px]. */
export const xOf = (pen: LanePen, time_s: number): number => pen.box.plot.left + toPx(pen.scene.axis, time_s);

function trace(pen: LanePen, path: PathBuffer): void {
  const { ctx, box } = pen;
  ctx.beginPath();
  let drawing = false;
  for (let i = 0; i < path.length; i++) {
    const x = box.plot.left + path.xy[2 * i]!;
    const y = path.xy[2 * i + 1]!;
    if (Number.isNaN(y)) drawing = false;
    else if (drawing) ctx.lineTo(x, y);
    else {
      ctx.moveTo(x, y);
      drawing = true;
    }
  }
}

/** Strokes a row of values over time. */
export function strokeRow(
  pen: LanePen,
  time_s: Float64Array,
  values: Float64Array,
  vertical: Vertical,
  style: LineStyle,
  offset = 0,
): void {
  const { ctx } = pen;
  buildLine(pen.path, pen.scene.axis, time_s, values, vertical, offset);
  trace(pen, pen.path);
  ctx.strokeStyle = style.colour;
  ctx.lineWidth = style.width ?? 1.75;
  ctx.globalAlpha = style.alpha ?? 1;
  ctx.setLineDash([...DASH[style.dash ?? 'solid']]);
  ctx.stroke();
  ctx.setLineDash([]);
  ctx.globalAlpha = 1;
}

/** Fills between a row of values and a height. */
export function fillRow(
  pen: LanePen,
  time_s: Float64Array,
  values: Float64Array,
  vertical: Vertical,
  base_px: number,
  fill: string | CanvasPattern,
): void {
  const { ctx, box, path } = pen;
  buildLine(path, pen.scene.axis, time_s, values, vertical);
  ctx.beginPath();
  let from = -1;
  for (let i = 0; i <= path.length; i++) {
    const open = i < path.length && !Number.isNaN(path.xy[2 * i + 1]!);
    if (open) {
      const x = box.plot.left + path.xy[2 * i]!;
      if (from < 0) {
        ctx.moveTo(x, base_px);
        from = i;
      }
      ctx.lineTo(x, path.xy[2 * i + 1]!);
    } else if (from >= 0) {
      ctx.lineTo(box.plot.left + path.xy[2 * (i - 1)]!, base_px);
      ctx.closePath();
      from = -1;
    }
  }
  ctx.fillStyle = fill;
  ctx.fill();
}

/** Fills between two rows over the same moments. `second` is a spare room for the lower edge. */
export function fillBetween(
  pen: LanePen,
  second: PathBuffer,
  time_s: Float64Array,
  upper: { values: Float64Array; offset?: number },
  lower: { values: Float64Array; offset?: number },
  vertical: Vertical,
  fill: string | CanvasPattern,
  alpha = 1,
): void {
  const { ctx, box, path } = pen;
  buildLine(path, pen.scene.axis, time_s, upper.values, vertical, upper.offset);
  buildLine(second, pen.scene.axis, time_s, lower.values, vertical, lower.offset);
  ctx.beginPath();
  for (let i = 0; i < path.length; i++)
    if (!Number.isNaN(path.xy[2 * i + 1]!)) ctx.lineTo(box.plot.left + path.xy[2 * i]!, path.xy[2 * i + 1]!);
  for (let i = second.length - 1; i >= 0; i--)
    if (!Number.isNaN(second.xy[2 * i + 1]!))
      ctx.lineTo(box.plot.left + second.xy[2 * i]!, second.xy[2 * i + 1]!);
  ctx.closePath();
  ctx.fillStyle = fill;
  ctx.globalAlpha = alpha;
  ctx.fill();
  ctx.globalAlpha = 1;
}

export interface TextStyle {
  colour: string;
  size?: number;
  weight?: number;
  align?: CanvasTextAlign;
  baseline?: CanvasTextBaseline;
  /** Ground painted round the letters so that they read over lines. */
  halo?: string;
}

/** Writes a word. */
export function write(pen: LanePen, text: string, x: number, y: number, style: TextStyle): void {
  const { ctx, scene } = pen;
  ctx.font = `${style.weight ?? 400} ${style.size ?? 12}px ${scene.palette.font}`;
  ctx.textAlign = style.align ?? 'left';
  ctx.textBaseline = style.baseline ?? 'middle';
  if (style.halo) {
    ctx.strokeStyle = style.halo;
    ctx.lineWidth = 3.5;
    ctx.lineJoin = 'round';
    ctx.strokeText(text, x, y);
  }
  ctx.fillStyle = style.colour;
  ctx.fillText(text, x, y);
}

/** Hairlines at the marks of a scale. */
export function drawMarks(pen: LanePen, frame: Frame, scale: ValueScale): void {
  const { ctx, scene, box } = pen;
  ctx.fillStyle = scene.palette.line;
  for (const value of marksOf(scale))
    ctx.fillRect(box.plot.left, Math.round(yOf(frame, scale, value)), box.plot.width, 1);
}

/**
 * Figures at the marks of a scale: beside the plot, or inside it on a narrow strip, where they are written last so that no
 * area covers them.
 */
export function writeMarks(
  pen: LanePen,
  frame: Frame,
  scale: ValueScale,
  side: 'left' | 'right' = 'left',
): void {
  const { scene, box } = pen;
  const { palette, layout } = scene;
  const digits = decimalsOf(scale.step);
  const { left, width } = box.plot;
  for (const value of marksOf(scale)) {
    const y = yOf(frame, scale, value);
    if (value === scale.low && layout.narrow) continue;
    const x =
      side === 'left'
        ? layout.narrow
          ? left + 1
          : left - 7
        : layout.narrow
          ? left + width - 1
          : left + width + 7;
    write(pen, scene.words.number(value, digits), x, layout.narrow ? y + 7 : y, {
      colour: palette.ink3,
      size: 11,
      align: side === 'left' ? (layout.narrow ? 'left' : 'right') : layout.narrow ? 'right' : 'left',
      ...(layout.narrow ? { halo: palette.raised } : {}),
    });
  }
}

/** Clips to the drawn part of the lane while `paint` runs. */
export function inside(pen: LanePen, paint: () => void, bleed = 1): void {
  const { ctx, box } = pen;
  ctx.save();
  ctx.beginPath();
  ctx.rect(box.plot.left, box.plot.top - bleed, box.plot.width, box.plot.height + 2 * bleed);
  ctx.clip();
  paint();
  ctx.restore();
}
