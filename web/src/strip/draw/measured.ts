import type { LaneKey } from '../kernels/lane-layout.ts';
import type { ValueScale } from '../kernels/value-scale.ts';
import type { MeasuredBrew, MeasuredQuantity } from '../measured.ts';
import { heatFrames } from './lanes.ts';
import { type Dash, type Frame, inside, strokeRow, verticalOf, xOf, yOf } from './pen.ts';
import type { LanePen, Scales } from './scene.ts';

const DRAWN: Readonly<Partial<Record<LaneKey, readonly [MeasuredQuantity, keyof Scales][]>>> = {
  water: [
    ['pour_g_s', 'flow'],
    ['poured_g', 'poured'],
  ],
  heat: [['temperature_C', 'temperature']],
  drip: [['drip_g_s', 'drip']],
  cup: [['beverage_g', 'mass']],
};

/** Line of the first and of the second brew. */
const LINES: readonly Dash[] = ['solid', 'dash'];

/** Draws what was measured into a lane, in ink over the prediction's hue. */
export function paintMeasured(pen: LanePen): void {
  const { measured, scales } = pen.scene;
  if (measured.length === 0) return;
  const rows = DRAWN[pen.box.key];
  if (!rows) return;
  const frame: Frame = pen.box.key === 'heat' ? heatFrames(pen.box.plot).lines : pen.box.plot;
  inside(pen, () => {
    for (const [i, brew] of measured.entries()) {
      for (const [quantity, scale] of rows) paintLines(pen, frame, scales[scale], brew, quantity, i);
      if (pen.box.key === 'heat') paintPoints(pen, frame, scales.temperature, brew, i);
    }
  });
}

function paintLines(
  pen: LanePen,
  frame: Frame,
  scale: ValueScale,
  brew: MeasuredBrew,
  quantity: MeasuredQuantity,
  place: number,
): void {
  const { palette } = pen.scene;
  const vertical = verticalOf(frame, scale);
  for (const line of brew.lines) {
    if (line.quantity !== quantity) continue;
    // A rim of paper keeps it apart from the predicted line below.
    strokeRow(pen, line.time_s, line.values, vertical, { colour: palette.raised, width: 4 });
    strokeRow(pen, line.time_s, line.values, vertical, {
      colour: palette.ink,
      width: 1.5,
      dash: LINES[place % LINES.length]!,
    });
  }
}

/** Readings by hand: a disc for the first brew, a square for the second. */
function paintPoints(pen: LanePen, frame: Frame, scale: ValueScale, brew: MeasuredBrew, place: number): void {
  const { ctx, scene } = pen;
  ctx.lineWidth = 1.5;
  ctx.strokeStyle = scene.palette.raised;
  ctx.fillStyle = scene.palette.ink;
  for (const point of brew.points) {
    const x = xOf(pen, point.time_s);
    const y = yOf(frame, scale, point.temperature_C);
    ctx.beginPath();
    if (place === 0) ctx.arc(x, y, 4, 0, 2 * Math.PI);
    else ctx.rect(x - 3.5, y - 3.5, 7, 7);
    ctx.fill();
    ctx.stroke();
  }
}
