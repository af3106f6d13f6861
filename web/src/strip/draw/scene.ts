import type { Bands, BedVisit, BrewResult, Plan } from '@pourline/core';
import type { Field } from '../kernels/isotherms.ts';
import type { LaneBox, LaneKey, StripLayout } from '../kernels/lane-layout.ts';
import type { TimeAxis } from '../kernels/time-axis.ts';
import { maxOf, type PathBuffer, pathBuffer } from '../kernels/trace-path.ts';
import { scaleOver, steadyScale, type ValueScale } from '../kernels/value-scale.ts';
import { type MeasuredBrew, mostOf } from '../measured.ts';
import type { Palette } from './palette.ts';

/** Words that are painted, already in the language in use. */
export interface StripWords {
  readonly bedTop: string;
  readonly bedBottom: string;
  readonly top: string;
  readonly middle: string;
  readonly bottom: string;
  readonly drawdown: string;
  clock(time_s: number): string;
  number(value: number, digits: number): string;
}

/** A plan shown behind the plan. */
export interface Ghost {
  readonly plan: Plan;
  readonly result: BrewResult | null;
  readonly name: string;
}

/** Everything one frame of the strip is painted from. */
export interface Scene {
  readonly layout: StripLayout;
  readonly axis: TimeAxis;
  readonly palette: Palette;
  readonly plan: Plan;
  readonly result: BrewResult | null;
  readonly ghost: Ghost | null;
  readonly bands: Bands | null;
  readonly visits: readonly BedVisit[];
  /** Brews as they were measured, drawn over the prediction. */
  readonly measured: readonly MeasuredBrew[];
  /** What is shown does not belong to the plan as it stands. */
  readonly stale: boolean;
  readonly now_s: number | null;
  readonly scales: Scales;
  readonly words: StripWords;
}

/** One lane being painted. */
export interface LanePen {
  readonly ctx: CanvasRenderingContext2D;
  readonly scene: Scene;
  readonly box: LaneBox;
  readonly path: PathBuffer;
}

/** Value scales of all lanes, held steady from frame to frame. */
export interface Scales {
  readonly flow: ValueScale;
  readonly poured: ValueScale;
  readonly temperature: ValueScale;
  readonly head: ValueScale;
  readonly drip: ValueScale;
  readonly release: ValueScale;
  readonly strength: ValueScale;
  readonly mass: ValueScale;
}

/** Rooms reused from frame to frame: no allocation while dragging. */
export interface Rooms {
  readonly path: PathBuffer;
  readonly other: PathBuffer;
  field: Field | null;
  stack: Float64Array | null;
  map: HTMLCanvasElement | null;
}

export const makeRooms = (): Rooms => ({
  path: pathBuffer(4_096),
  other: pathBuffer(4_096),
  field: null,
  stack: null,
  map: null,
});

const MARKS: Readonly<Record<keyof Scales, number>> = {
  flow: 3,
  poured: 3,
  temperature: 4,
  head: 2,
  drip: 2,
  release: 3,
  strength: 3,
  mass: 3,
};

/** Scales for the results and measurements on show; each stays as it was while its data still fits. */
export function fitScales(
  old: Scales | null,
  results: readonly BrewResult[],
  measured: readonly MeasuredBrew[] = [],
): Scales {
  const most = (pick: (result: BrewResult) => number, least: number): number =>
    results.reduce((max, result) => Math.max(max, pick(result)), least);
  const highs: Record<keyof Scales, number> = {
    flow: most((r) => maxOf(r.trace.pour_g_s), Math.max(2, mostOf(measured, 'pour_g_s'))),
    poured: most((r) => maxOf(r.trace.poured_g), Math.max(20, mostOf(measured, 'poured_g'))),
    temperature: 100,
    head: most((r) => maxOf(r.trace.head_mm), 5),
    drip: most((r) => maxOf(r.trace.drip_g_s), Math.max(1, mostOf(measured, 'drip_g_s'))),
    release: most(totalRelease, 10),
    strength: most((r) => maxOf(strengthShown(r)), 0.5),
    mass: most((r) => maxOf(r.trace.beverage_g), Math.max(20, mostOf(measured, 'beverage_g'))),
  };
  const scale = (key: keyof Scales): ValueScale =>
    key === 'temperature'
      ? { low: 20, high: 100, step: 20 }
      : steadyScale(old?.[key] ?? null, 0, highs[key], MARKS[key]);
  return {
    flow: scale('flow'),
    poured: scale('poured'),
    temperature: scale('temperature'),
    head: scale('head'),
    drip: scale('drip'),
    release: scale('release'),
    strength: scale('strength'),
    mass: scale('mass'),
  };
}

export const emptyScales = (): Scales => {
  const one = scaleOver(0, 1, 2);
  return {
    flow: one,
    poured: one,
    temperature: { low: 20, high: 100, step: 20 },
    head: one,
    drip: one,
    release: one,
    strength: one,
    mass: one,
  };
};

/**
 * Strength in the server once there is enough in it to speak of. The first drops are many times stronger than any cup
 * and would flatten the rest of the lane; below 4 g the line is left out.
 */
export function strengthShown(result: BrewResult): Float64Array {
  const { strength_pct, beverage_g } = result.trace;
  return strength_pct.map((value, i) => (beverage_g[i]! >= 4 ? value : Number.NaN));
}

function totalRelease(result: BrewResult): number {
  const { release_mg_s, time_s } = result.trace;
  const n = time_s.length;
  const rows = n > 0 ? release_mg_s.length / n : 0;
  let most = 0;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let k = 0; k < rows; k++) sum += release_mg_s[k * n + i]!;
    if (sum > most) most = sum;
  }
  return most;
}

export const boxOf = (layout: StripLayout, key: LaneKey): LaneBox | undefined =>
  layout.lanes.find((lane) => lane.key === key);
