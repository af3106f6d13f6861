import type { BrewResult, Trace } from '@pourline/core';
import type { Key } from '../words/index.ts';
import type { Dash } from './draw/pen.ts';
import type { LaneKey } from './kernels/lane-layout.ts';
import { valueAt } from './kernels/trace-path.ts';
import type { MeasuredQuantity } from './measured.ts';

/** One line or area of a lane: what it is called, how it is drawn, and its value at a moment. */
export interface Series {
  readonly key: Key;
  readonly unit: string;
  readonly digits: number;
  /** CSS custom property of its colour. */
  readonly hue: string;
  readonly dash: Dash;
  readonly area?: boolean;
  /** The measured row that stands beside it. */
  readonly measured?: MeasuredQuantity;
  at(trace: Trace, time_s: number): number;
}

type Row = {
  [K in keyof Trace]: Trace[K] extends Float64Array ? K : never;
}[keyof Trace];

const row =
  (name: Row) =>
  (trace: Trace, time_s: number): number =>
    valueAt(trace.time_s, trace[name], time_s);

/** Series of each lane, in the order of its legend. Hands and solutes have headings of their own. */
export const SERIES: Readonly<Record<Exclude<LaneKey, 'hands' | 'solutes'>, readonly Series[]>> = {
  water: [
    {
      key: 'strip.series.flow',
      unit: 'g/s',
      digits: 1,
      hue: '--water',
      dash: 'solid',
      area: true,
      at: row('pour_g_s'),
      measured: 'pour_g_s',
    },
    {
      key: 'strip.series.poured',
      unit: 'g',
      digits: 0,
      hue: '--water-ink',
      dash: 'dash',
      at: row('poured_g'),
      measured: 'poured_g',
    },
  ],
  heat: [
    {
      key: 'strip.series.stream',
      unit: '°C',
      digits: 0,
      hue: '--water',
      dash: 'solid',
      at: (t, s) => (valueAt(t.time_s, t.pour_g_s, s) > 0 ? valueAt(t.time_s, t.stream_C, s) : Number.NaN),
    },
    { key: 'strip.series.head_C', unit: '°C', digits: 0, hue: '--water-ink', dash: 'dot', at: row('head_C') },
    {
      key: 'strip.series.bed_top',
      unit: '°C',
      digits: 0,
      hue: '--heat',
      dash: 'solid',
      at: row('bed_top_C'),
    },
    {
      key: 'strip.series.bed_middle',
      unit: '°C',
      digits: 0,
      hue: '--heat',
      dash: 'dash',
      at: row('bed_middle_C'),
    },
    {
      key: 'strip.series.bed_bottom',
      unit: '°C',
      digits: 0,
      hue: '--heat-ink',
      dash: 'dashDot',
      at: row('bed_bottom_C'),
    },
  ],
  head: [
    {
      key: 'strip.series.head_mm',
      unit: 'mm',
      digits: 0,
      hue: '--water',
      dash: 'solid',
      area: true,
      at: row('head_mm'),
    },
  ],
  drip: [
    {
      key: 'strip.series.drip',
      unit: 'g/s',
      digits: 1,
      hue: '--flow',
      dash: 'solid',
      area: true,
      at: row('drip_g_s'),
      measured: 'drip_g_s',
    },
  ],
  cup: [
    {
      key: 'strip.series.strength',
      unit: '%',
      digits: 2,
      hue: '--solutes',
      dash: 'solid',
      at: row('strength_pct'),
    },
    {
      key: 'strip.series.mass',
      unit: 'g',
      digits: 0,
      hue: '--flow',
      dash: 'dash',
      at: row('beverage_g'),
      measured: 'beverage_g',
    },
    { key: 'strip.series.yield', unit: '%', digits: 1, hue: '', dash: 'solid', at: row('yield_pct') },
  ],
};

/** Release of every solute group at a moment [mg/s], in the engine's order. */
export function releaseAt(result: BrewResult, time_s: number): { key: string; value: number }[] {
  const { time_s: times, release_mg_s } = result.trace;
  return result.cup.solutes.map(({ key }, k) => ({
    key,
    value: valueAt(times, release_mg_s, time_s, k * times.length),
  }));
}
