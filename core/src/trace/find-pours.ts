import { cleanMass } from './clean-mass.ts';
import { middle, slopes } from './even-steps.ts';
import { pourShape } from './pour-shape.ts';
import { figure, traceRemark } from './remarks.ts';
import type { CleanMass, FoundPour, FoundPours, TraceRemark } from './types.ts';

/** How pours are told from everything else. */
export interface PourOptions {
  /** Less water than this is no pour [g]. */
  least_g?: number;
  /** Flow at which a pour surely runs, and below which it has surely stopped [g/s]. */
  starts_g_s?: number;
  stops_g_s?: number;
  /** Stops shorter than this are part of one pour [s]. */
  joins_s?: number;
}

const USUAL = { least_g: 2, starts_g_s: 0.9, stops_g_s: 0.4, joins_s: 1 } as const;

/** Half of the time over which flow is taken [s]. */
const FLOW_HALF = 0.4;
/** Time before and after a pour from which its levels are taken [s]. */
const QUIET = 1.5;
/** A disturbance shows for so long before and after what is seen of it [s]. */
const RINGS = 0.3;
/** From the end of a pour until its last drops have settled [s]. */
const SETTLES = 0.4;

/**
 * Finds the pours of a recorded mass: start, end, grams and shape of each, after {@link cleanMass}. A pour is where water comes faster than
 * `starts_g_s`; it reaches as far as the mass has left the level before it and not yet reached the level after it.
 */
export function findPours(
  time_s: Float64Array,
  mass: Float64Array,
  options: PourOptions = {},
): FoundPours & { clean: CleanMass } {
  const clean = cleanMass(time_s, mass);
  return { ...poursIn(clean, options), clean };
}

/** {@link findPours} on a mass that is clean already. */
export function poursIn(clean: CleanMass, options: PourOptions = {}): FoundPours {
  const { least_g, starts_g_s, stops_g_s, joins_s } = { ...USUAL, ...options };
  const { step_s } = clean;
  const mass = bridged(clean.mass_g);
  const flow = slopes(mass, step_s, Math.max(1, Math.round(FLOW_HALF / step_s)));
  const runs = joined(runsOf(flow, starts_g_s, stops_g_s), Math.round(joins_s / step_s));
  const drift = driftOf(flow, runs, step_s);
  const remarks: TraceRemark[] = [];
  const pours: FoundPour[] = [];
  runs.forEach((run, i) => {
    const pour = settle(clean, mass, flow, drift, run, runs[i - 1], runs[i + 1]);
    if (pour.water_g < least_g) return;
    pours.push(pour);
    const at = figure(pour.start_s);
    if (pour.disturbed) remarks.push(traceRemark('caution', 'pour_disturbed', {}, at));
    if (run.from <= 1) remarks.push(traceRemark('caution', 'pour_at_edge', { edge: 'begins' }, at));
    if (run.to >= mass.length - 2) remarks.push(traceRemark('caution', 'pour_at_edge', { edge: 'ends' }, at));
  });
  const total = pours.reduce((sum, { water_g }) => sum + water_g, 0);
  const span = (mass.at(-1) ?? 0) - (mass[0] ?? 0);
  const unaccounted = span - total;
  if (pours.length === 0) remarks.push(traceRemark('caution', 'no_pours', { least: least_g }));
  else if (Math.abs(unaccounted) > Math.max(3, 0.03 * total))
    remarks.push(traceRemark('caution', 'unaccounted', { mass: figure(unaccounted) }));
  if (likeDrip(pours)) remarks.push(traceRemark('caution', 'looks_like_drip'));
  return {
    pours,
    total_g: total,
    unaccounted_g: unaccounted,
    half_in: halfIn(pours),
    remarks: [...clean.remarks, ...remarks],
  };
}

interface Run {
  from: number;
  to: number;
}

/** Gaps as straight lines, and the ends held. */
function bridged(values: Float64Array): Float64Array {
  const found = values.slice();
  let before = -1;
  for (let k = 0; k < found.length; k++) {
    if (Number.isNaN(found[k]!)) continue;
    for (let j = before + 1; j < k; j++)
      found[j] =
        before < 0
          ? found[k]!
          : found[before]! + ((found[k]! - found[before]!) * (j - before)) / (k - before);
    before = k;
  }
  for (let j = before + 1; j < found.length; j++) found[j] = before < 0 ? 0 : found[before]!;
  return found;
}

/** Stretches where the flow stays above `low` and somewhere is above `high`. */
function runsOf(flow: Float64Array, high: number, low: number): Run[] {
  const runs: Run[] = [];
  let from = -1;
  let sure = false;
  for (let k = 0; k <= flow.length; k++) {
    const f = k < flow.length ? flow[k]! : Number.NEGATIVE_INFINITY;
    if (f > low) {
      if (from < 0) {
        from = k;
        sure = false;
      }
      sure ||= f > high;
    } else if (from >= 0) {
      if (sure) runs.push({ from, to: k - 1 });
      from = -1;
    }
  }
  return runs;
}

function joined(runs: readonly Run[], reach: number): Run[] {
  const found: Run[] = [];
  for (const run of runs) {
    const last = found.at(-1);
    if (last && run.from - last.to <= reach) last.to = run.to;
    else found.push({ ...run });
  }
  return found;
}

/** Slow change of the reading while nothing is poured [g/s]; 0 when hardly anything is quiet. */
function driftOf(flow: Float64Array, runs: readonly Run[], step_s: number): number {
  const around = Math.round(1 / step_s);
  const quiet: number[] = [];
  let k = 0;
  for (const run of [...runs, { from: flow.length, to: flow.length }]) {
    for (; k < run.from - around; k++) quiet.push(flow[k]!);
    k = Math.max(k, run.to + around);
  }
  return quiet.length * step_s < 5 ? 0 : middle(quiet);
}

function settle(
  clean: CleanMass,
  mass: Float64Array,
  flow: Float64Array,
  drift: number,
  run: Run,
  before: Run | undefined,
  after: Run | undefined,
): FoundPour {
  const { step_s, noise_g } = clean;
  const steps = (seconds: number) => Math.round(seconds / step_s);
  // Half the way to the neighbours is theirs.
  const first = before ? Math.ceil((before.to + run.from) / 2) : 0;
  const last = after ? Math.floor((run.to + after.from) / 2) : mass.length - 1;
  const low = levelOf(mass, Math.max(first, run.from - steps(QUIET)), run.from - steps(0.2), run.from);
  const high = levelOf(
    mass,
    run.to + steps(SETTLES),
    Math.min(last, run.to + steps(SETTLES + QUIET)),
    Math.min(last, run.to + 1),
  );
  const limit = Math.max(0.2, 2.5 * noise_g);
  const [a, b] = ends(mass, run, first, last, low, high, limit);
  const hidden = (k: number) => eventAt(clean, k);
  const start = startOf(mass, flow, step_s, a, b, low, limit, hidden(a + 1) ?? hidden(a));
  const end = Math.max(
    start + step_s,
    endOf(mass, flow, step_s, a, b, high, limit, hidden(b - 1) ?? hidden(b)),
  );
  const zero = clean.time_s[0] ?? 0;
  const quietBefore = Math.max(1, Math.min(steps(QUIET), run.from - first));
  return {
    start_s: zero + start,
    end_s: zero + end,
    water_g: high - low - drift * (end - start),
    water_doubt_g: Math.hypot(noise_g / Math.sqrt(quietBefore), noise_g / Math.sqrt(steps(QUIET)), 0.1),
    shape: pourShape(mass, flow, step_s, a, b, zero),
    disturbed: clean.events.some(
      (event) => event.end_s >= zero + start - 0.2 && event.start_s <= zero + end + 0.2,
    ),
  };
}

/** First and last index of the disturbance that hides an index; null when none does. */
function eventAt(clean: CleanMass, k: number): { from: number; to: number } | null {
  const zero = clean.time_s[0] ?? 0;
  const t = zero + k * clean.step_s;
  const event = clean.events.find(({ start_s, end_s }) => start_s - RINGS < t && t < end_s + RINGS);
  if (!event) return null;
  return {
    from: Math.max(0, Math.round((event.start_s - RINGS - zero) / clean.step_s)),
    to: Math.min(clean.time_s.length - 1, Math.round((event.end_s + RINGS - zero) / clean.step_s)),
  };
}

type Hidden = { from: number; to: number } | null;

/** Moment a pour starts [s from index 0]: where it leaves the level before it; within a disturbance, where its first flow leads back to. */
function startOf(
  mass: Float64Array,
  flow: Float64Array,
  step_s: number,
  a: number,
  b: number,
  low: number,
  limit: number,
  hidden: Hidden,
): number {
  const second = Math.round(1 / step_s);
  if (hidden && hidden.to < b) {
    const early = meanFlow(flow, hidden.to + 2, Math.min(b, hidden.to + 2 + second));
    const back = hidden.to * step_s - (mass[hidden.to]! - low) / Math.max(early, 0.5);
    return Math.max(0, hidden.from * step_s, Math.min(hidden.to * step_s, back));
  }
  const early = meanFlow(flow, a, Math.min(b, a + second));
  return Math.max(0, a * step_s - Math.min(0.3, limit / Math.max(early, 0.5)));
}

/** Moment a pour ends [s from index 0], likewise. */
function endOf(
  mass: Float64Array,
  flow: Float64Array,
  step_s: number,
  a: number,
  b: number,
  high: number,
  limit: number,
  hidden: Hidden,
): number {
  const second = Math.round(1 / step_s);
  if (hidden && hidden.from > a) {
    const late = meanFlow(flow, Math.max(a, hidden.from - 2 - second), hidden.from - 2);
    const on = hidden.from * step_s + (high - mass[hidden.from]!) / Math.max(late, 0.5);
    return Math.max(hidden.from * step_s, Math.min(hidden.to * step_s, on));
  }
  const late = meanFlow(flow, Math.max(a, b - second), b);
  return b * step_s + Math.min(0.3, limit / Math.max(late, 0.5));
}

/** Middle value of a quiet stretch; the value at `at` when it is too short. */
function levelOf(mass: Float64Array, a: number, b: number, at: number): number {
  const from = Math.max(0, a);
  const to = Math.min(mass.length - 1, b);
  return to - from >= 2
    ? middle(mass.subarray(from, to + 1))
    : (mass[Math.max(0, Math.min(mass.length - 1, at))] ?? 0);
}

/** Last moment at the level before, and first at the level after. */
function ends(
  mass: Float64Array,
  run: Run,
  first: number,
  last: number,
  low: number,
  high: number,
  limit: number,
): [number, number] {
  const mid = (low + high) / 2;
  let k = run.from;
  while (k < run.to && mass[k]! < mid) k++;
  let a = k;
  while (a > first && mass[a]! > low + limit) a--;
  let b = k;
  while (b < last && mass[b]! < high - limit) b++;
  return [a, Math.max(a + 1, b)];
}

function meanFlow(flow: Float64Array, a: number, b: number): number {
  let sum = 0;
  for (let k = a; k <= b; k++) sum += flow[k] ?? 0;
  return sum / Math.max(1, b - a + 1);
}

/** A drip is slow, and goes on for most of the time. */
function likeDrip(pours: readonly FoundPour[]): boolean {
  if (pours.length === 0) return false;
  const span = pours.at(-1)!.end_s - pours[0]!.start_s;
  const running = pours.reduce((sum, { start_s, end_s }) => sum + end_s - start_s, 0);
  const total = pours.reduce((sum, { water_g }) => sum + water_g, 0);
  return running > 40 && running > 0.7 * span && total / running < 2.5;
}

/** Share of the time from the first pour to the end of the last at which half of the water was in. */
export function halfIn(pours: readonly { start_s: number; end_s: number; water_g: number }[]): number {
  if (pours.length === 0) return Number.NaN;
  const half = pours.reduce((sum, { water_g }) => sum + water_g, 0) / 2;
  const [from, to] = [pours[0]!.start_s, pours.at(-1)!.end_s];
  let sum = 0;
  for (const { start_s, end_s, water_g } of pours) {
    if (sum + water_g >= half) {
      const at = start_s + ((half - sum) / water_g) * (end_s - start_s);
      return (at - from) / Math.max(1e-9, to - from);
    }
    sum += water_g;
  }
  return 1;
}
