import type { Trace } from './result.ts';

/** A part of the bed that was near a temperature for a while. Depths run from 0 (top) to 1 (bottom). */
export interface BedVisit {
  depth_from: number;
  depth_to: number;
  from_s: number;
  to_s: number;
}

/** Where and when the bed was near a temperature. */
export interface BedVisits {
  /** By time of first arrival; empty when no wetted part of the bed came near enough. */
  visits: BedVisit[];
  /** The closest any wetted part came; null when the bed was never wetted. */
  nearest: { temperature_C: number; at_s: number; depth: number } | null;
}

/** What {@link bedVisits} reads of a trace. */
export type BedTrace = Pick<Trace, 'time_s' | 'bed_C' | 'saturation' | 'cells'>;

/** Share of the space between grains that must hold water before a place counts as wetted. */
const WETTED = 0.02;

interface Stay {
  cell: number;
  from_s: number;
  to_s: number;
}

/**
 * Finds where and when the wetted bed lies within `tolerance_K` of `temperature_C`. Temperatures between the moments of
 * the trace are interpolated straight. Neighbouring layers whose stays overlap in time are one visit, given by the box around them. Dry
 * grounds are left out: they have the temperature of the room, not of a brew.
 */
export function bedVisits(trace: BedTrace, temperature_C: number, tolerance_K: number): BedVisits {
  const stays: Stay[] = [];
  let nearest: BedVisits['nearest'] = null;
  for (let cell = 0; cell < trace.cells; cell++) {
    const wetted = firstWetted(trace, cell);
    if (wetted < 0) continue;
    // A front can carry a place past the temperature asked for between two moments: then it counts from the dry one.
    const dry = wetted > 0 ? trace.bed_C[(wetted - 1) * trace.cells + cell]! : temperature_C;
    const start = Math.abs(dry - temperature_C) > tolerance_K ? wetted - 1 : wetted;
    stays.push(...staysOf(trace, cell, start, temperature_C, tolerance_K));
    const close = closest(trace, cell, start, temperature_C);
    const better = !nearest || away(close, temperature_C) < away(nearest, temperature_C);
    if (better) nearest = close;
  }
  return { visits: merge(stays, trace.cells), nearest };
}

const away = (place: { temperature_C: number }, target: number): number =>
  Math.abs(place.temperature_C - target);

/** Index of the first moment at which a cell holds water, or -1. */
function firstWetted(trace: BedTrace, cell: number): number {
  for (let i = 0; i < trace.time_s.length; i++)
    if (trace.saturation[i * trace.cells + cell]! > WETTED) return i;
  return -1;
}

/** Stretches of time in which one cell is inside the band. */
function staysOf(trace: BedTrace, cell: number, start: number, target: number, tolerance: number): Stay[] {
  const { time_s, bed_C, cells } = trace;
  const stays: Stay[] = [];
  for (let i = start; i + 1 < time_s.length; i++) {
    const t0 = time_s[i]!;
    const t1 = time_s[i + 1]!;
    const part = within(
      bed_C[i * cells + cell]! - target,
      bed_C[(i + 1) * cells + cell]! - target,
      tolerance,
    );
    if (!part) continue;
    const from_s = t0 + part[0] * (t1 - t0);
    const to_s = t0 + part[1] * (t1 - t0);
    const last = stays[stays.length - 1];
    if (last && from_s <= last.to_s) last.to_s = to_s;
    else stays.push({ cell, from_s, to_s });
  }
  return stays;
}

/** The part (0–1) of a straight run from `a` to `b` that lies in ±`tolerance`, or null. */
function within(a: number, b: number, tolerance: number): readonly [number, number] | null {
  if (!Number.isFinite(a) || !Number.isFinite(b)) return null;
  if (a === b) return Math.abs(a) <= tolerance ? [0, 1] : null;
  const p = (-tolerance - a) / (b - a);
  const q = (tolerance - a) / (b - a);
  const from = Math.max(0, Math.min(p, q));
  const to = Math.min(1, Math.max(p, q));
  return from <= to ? [from, to] : null;
}

/** The moment at which one cell comes closest to the target. */
function closest(trace: BedTrace, cell: number, start: number, target: number) {
  const { time_s, bed_C, cells } = trace;
  const depth = (cell + 0.5) / cells;
  let best = { temperature_C: bed_C[start * cells + cell]!, at_s: time_s[start]!, depth };
  for (let i = start; i + 1 < time_s.length; i++) {
    const a = bed_C[i * cells + cell]!;
    const b = bed_C[(i + 1) * cells + cell]!;
    const crosses = (a - target) * (b - target) < 0;
    const share = crosses ? (target - a) / (b - a) : 1;
    const temperature_C = crosses ? target : b;
    if (Math.abs(temperature_C - target) < away(best, target))
      best = { temperature_C, at_s: time_s[i]! + share * (time_s[i + 1]! - time_s[i]!), depth };
  }
  return best;
}

/** Joins stays of neighbouring cells that overlap in time and boxes each group. */
function merge(stays: readonly Stay[], cells: number): BedVisit[] {
  const group = stays.map((_, i) => i);
  const root = (i: number): number => {
    let r = i;
    while (group[r] !== r) r = group[r]!;
    return r;
  };
  for (let i = 0; i < stays.length; i++)
    for (let j = i + 1; j < stays.length && stays[j]!.cell <= stays[i]!.cell + 1; j++) {
      const a = stays[i]!;
      const b = stays[j]!;
      if (b.cell === a.cell + 1 && a.from_s <= b.to_s && b.from_s <= a.to_s) group[root(j)] = root(i);
    }
  const boxes = new Map<number, BedVisit>();
  stays.forEach((stay, i) => {
    const depth_from = stay.cell / cells;
    const depth_to = (stay.cell + 1) / cells;
    const box = boxes.get(root(i));
    if (!box) boxes.set(root(i), { depth_from, depth_to, from_s: stay.from_s, to_s: stay.to_s });
    else {
      box.depth_from = Math.min(box.depth_from, depth_from);
      box.depth_to = Math.max(box.depth_to, depth_to);
      box.from_s = Math.min(box.from_s, stay.from_s);
      box.to_s = Math.max(box.to_s, stay.to_s);
    }
  });
  return [...boxes.values()].sort((a, b) => a.from_s - b.from_s || a.depth_from - b.depth_from);
}
