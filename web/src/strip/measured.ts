import { maxOf, valueAt } from './kernels/trace-path.ts';

/** What can be measured over time, each in the lane and on the scale of what the engine predicts under the same name. */
export type MeasuredQuantity = 'pour_g_s' | 'poured_g' | 'temperature_C' | 'drip_g_s' | 'beverage_g';

/** One measured row; NaN where nothing was read. */
export interface MeasuredLine {
  readonly quantity: MeasuredQuantity;
  /** What it is called where it is named: `kettle`, `bed middle`. */
  readonly name: string;
  readonly time_s: Float64Array;
  readonly values: Float64Array;
}

/** Readings one by one: a thermometer looked at now and then. */
export interface MeasuredPoint {
  readonly time_s: number;
  readonly temperature_C: number;
  readonly name: string;
}

/** A pour as it was really done. */
export interface MeasuredPour {
  readonly start_s: number;
  readonly end_s: number;
  readonly water_g: number;
}

/** One brew as it was measured, drawn in ink over the prediction. */
export interface MeasuredBrew {
  readonly name: string;
  readonly lines: readonly MeasuredLine[];
  readonly points: readonly MeasuredPoint[];
  readonly pours: readonly MeasuredPour[];
}

/** Last moment of a measured brew [s]; 0 when it has none. */
export function lastMoment(brew: MeasuredBrew): number {
  let last = 0;
  for (const { time_s } of brew.lines) last = Math.max(last, time_s[time_s.length - 1] ?? 0);
  for (const { time_s } of brew.points) last = Math.max(last, time_s);
  for (const { end_s } of brew.pours) last = Math.max(last, end_s);
  return last;
}

/** Largest value of a quantity over brews; 0 when nothing of it was measured. */
export function mostOf(brews: readonly MeasuredBrew[], quantity: MeasuredQuantity): number {
  let most = 0;
  for (const brew of brews)
    for (const line of brew.lines)
      if (line.quantity === quantity) most = Math.max(most, maxOf(line.values, 0));
  return most;
}

/** The first line of a quantity at a moment; NaN when it was not measured there. */
export function measuredAt(brew: MeasuredBrew, quantity: MeasuredQuantity, time_s: number): number {
  const line = brew.lines.find((entry) => entry.quantity === quantity);
  return line ? valueAt(line.time_s, line.values, time_s) : Number.NaN;
}
