import { heatFrames } from './draw/lanes.ts';
import { yOf } from './draw/pen.ts';
import { boxOf, type Scene } from './draw/scene.ts';
import { valueAt } from './kernels/trace-path.ts';
import type { ValueScale } from './kernels/value-scale.ts';

/** Where the crosshair meets the lines: a dot for each value that exists at this moment. */
export function dotsAt(scene: Scene, time_s: number): { y: number; colour: string }[] {
  const { layout, result, scales, palette } = scene;
  if (!result) return [];
  const { trace } = result;
  const dots: { y: number; colour: string }[] = [];
  const add = (
    frame: { top: number; height: number } | undefined,
    scale: ValueScale,
    row: Float64Array,
    colour: string,
  ) => {
    const value = valueAt(trace.time_s, row, time_s);
    if (frame && Number.isFinite(value)) dots.push({ y: yOf(frame, scale, value), colour });
  };
  const plot = (key: Parameters<typeof boxOf>[1]) => boxOf(layout, key)?.plot;
  const heat = plot('heat');
  add(plot('water'), scales.flow, trace.pour_g_s, palette.water.line);
  add(plot('water'), scales.poured, trace.poured_g, palette.water.ink);
  if (heat) {
    const { lines } = heatFrames(heat);
    add(lines, scales.temperature, trace.bed_top_C, palette.heat.line);
    add(lines, scales.temperature, trace.bed_middle_C, palette.heat.line);
    add(lines, scales.temperature, trace.bed_bottom_C, palette.heat.ink);
  }
  add(plot('head'), scales.head, trace.head_mm, palette.water.line);
  add(plot('drip'), scales.drip, trace.drip_g_s, palette.flow.line);
  add(plot('cup'), scales.mass, trace.beverage_g, palette.flow.line);
  if (valueAt(trace.time_s, trace.beverage_g, time_s) >= 4)
    add(plot('cup'), scales.strength, trace.strength_pct, palette.solutes.line);
  return dots;
}
