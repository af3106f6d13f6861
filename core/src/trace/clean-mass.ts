import { noiseOf, runningMedian, toEvenSteps } from './even-steps.ts';
import { type Bridge, bridgeExcursions } from './excursions.ts';
import { findJumps, type Jump } from './jumps.ts';
import { figure, traceRemark } from './remarks.ts';
import type { CleanMass, MassEvent, TraceRemark } from './types.ts';

/** Spikes up to half of this are knocks of the kettle [s]. */
const SPIKE_WINDOW = 1.1;
/** A reading this near to zero after a fall was set there [g]. */
const ZERO_G = 1.5;
/** Something lifted is back within this time [s], with the same mass within … */
const BACK_WITHIN = 120;
/** … this much [g], and this share. */
const SAME_G = 6;
const SAME_SHARE = 0.08;
/** No kettle pours faster than this for long [g/s]. */
const POUR_G_S = 25;
/** What rises faster for a moment and falls back was pressed, not poured [g/s]. */
const PRESS_G_S = 25;
/** Less than this is no vessel being lifted [g]. */
const LIFT_G = 15;
/** A hand or a kettle leaning on the dripper lets go within this time [s]. */
const LEANS = 4;
/** Excursions are looked for over these times, one after the other [s], and bridged by this much more on both sides [s]. */
const LEANINGS = [0.8, 1.6, 2.8, LEANS];
const PAD = 0.2;
/** Excursions below this stay [g]: a falling stream itself presses by about 1 g. */
const LEAN_G = 2;

/**
 * Takes out of a mass what is not water: the balance set to zero, vessels put on, taken off, or lifted and put back, knocks, leaning. What is left is
 * continuous and begins at 0. Every such event is named. Linear time; never throws.
 * @param time_s Strictly rising [s]. @param mass Readings [g]; NaN where there is none.
 */
export function cleanMass(time_s: Float64Array, mass: Float64Array): CleanMass {
  const even = toEvenSteps(time_s, mass);
  const { step_s, start_s } = even;
  const raw = withoutNaN(even.value, step_s);
  const noise = noiseOf(raw);
  const half = Math.max(1, Math.round(SPIKE_WINDOW / 2 / step_s));
  const smooth = raw.length > 4 * half ? runningMedian(raw, half) : raw.slice();
  const events: MassEvent[] = [];
  const moment = (k: number) => start_s + k * step_s;
  events.push(...knocks(raw, smooth, noise, moment));
  straighten(smooth, step_s, events, moment);
  const jumps = findJumps(smooth, step_s, noise);
  const clean = undo(smooth, jumps, step_s, moment, noise, events);
  straighten(clean, step_s, events, moment);
  const gaps = even.value.map((v) => (Number.isNaN(v) ? 1 : 0));
  const zero = clean[0] ?? 0;
  const times = new Float64Array(clean.length);
  for (let k = 0; k < clean.length; k++) {
    times[k] = moment(k);
    clean[k] = gaps[k] ? Number.NaN : clean[k]! - zero;
  }
  events.sort((a, b) => a.start_s - b.start_s);
  return {
    step_s,
    time_s: times,
    mass_g: clean,
    events,
    noise_g: noise,
    remarks: [...eventRemarks(events, smooth, start_s, step_s), ...massRemarks(clean, noise)],
  };
}

/**
 * Over a gap a rise that a kettle can pour is drawn as a straight line; any other change is left as a jump at its end, for the balance may have been
 * set to zero meanwhile.
 */
function withoutNaN(values: Float64Array, step_s: number): Float64Array {
  const found = values.slice();
  let before = -1;
  for (let k = 0; k < found.length; k++) {
    if (Number.isNaN(found[k]!)) continue;
    const from = before < 0 ? found[k]! : found[before]!;
    const change = found[k]! - from;
    const poured = change > 0 && change < POUR_G_S * (k - before) * step_s;
    for (let j = before + 1; j < k; j++)
      found[j] = from + (poured ? (change * (j - before)) / (k - before) : 0);
    before = k;
  }
  found.fill(before < 0 ? 0 : found[before]!, before + 1);
  return found;
}

function knocks(
  raw: Float64Array,
  smooth: Float64Array,
  noise: number,
  moment: (k: number) => number,
): MassEvent[] {
  const limit = Math.max(2, 8 * noise);
  const found: MassEvent[] = [];
  for (let k = 0; k < raw.length; k++) {
    const by = raw[k]! - smooth[k]!;
    if (Math.abs(by) < limit) continue;
    const last = found.at(-1);
    if (last && moment(k) - last.end_s < 1) {
      last.end_s = moment(k);
      if (Math.abs(by) > Math.abs(last.jump_g)) last.jump_g = by;
    } else found.push({ what: 'knock', start_s: moment(k), end_s: moment(k), jump_g: by });
  }
  return found;
}

/** Takes the jumps out one by one, in order; a lifted vessel that comes back is bridged as a whole. */
function undo(
  mass: Float64Array,
  jumps: readonly Jump[],
  step_s: number,
  moment: (k: number) => number,
  noise: number,
  events: MassEvent[],
): Float64Array {
  const clean = mass.slice();
  let offset = 0;
  let done = 0;
  const carry = (to: number) => {
    for (; done < to; done++) clean[done] = mass[done]! + offset;
  };
  for (let j = 0; j < jumps.length; j++) {
    const jump = jumps[j]!;
    if (jump.from < done) continue;
    const back = backAgain(jumps, j, step_s);
    // What pressed on the vessel for a moment lets go; `straighten` takes it off.
    if (!back && letsGo(mass, jump, step_s)) continue;
    carry(jump.from + 1);
    const end = back ?? jump;
    // The same things stand there again: what changed in between is real, and no jump is left to estimate.
    const by = back ? 0 : jump.by;
    offset -= by;
    const [low, high] = [clean[jump.from]!, mass[end.to]! + offset];
    for (let k = jump.from + 1; k < end.to; k++)
      clean[k] = low + ((high - low) * (k - jump.from)) / (end.to - jump.from);
    done = Math.max(done, end.to);
    events.push({
      what: back
        ? jump.by < -LIFT_G && (back.from - jump.from) * step_s > 0.8
          ? 'lifted'
          : 'knock'
        : named(jump, noise),
      start_s: moment(jump.from),
      end_s: moment(end.to),
      jump_g: jump.by,
    });
  }
  carry(mass.length);
  return clean;
}

function named(jump: Jump, noise: number): MassEvent['what'] {
  if (jump.by > 0) return 'put_on';
  return Math.abs(jump.after) < Math.max(ZERO_G, 6 * noise) ? 'tare' : 'taken_off';
}

/** The jump that brings back what this one took away, or takes away what a knock brought; null when there is none. */
function backAgain(jumps: readonly Jump[], j: number, step_s: number): Jump | null {
  const jump = jumps[j]!;
  for (let i = j + 1; i < jumps.length; i++) {
    const later = jumps[i]!;
    const apart = (later.from - jump.from) * step_s;
    if (apart > BACK_WITHIN) return null;
    if (Math.sign(later.by) === Math.sign(jump.by)) continue;
    const change = later.after - jump.before;
    // A knock may fall into a pour, which goes on meanwhile.
    if (apart <= LEANS && change > -LEAN_G && change < LEAN_G + POUR_G_S * ((later.to - jump.from) * step_s))
      return later;
    const same = Math.max(SAME_G, SAME_SHARE * Math.abs(jump.by));
    if (jump.by < -LIFT_G && later.by > 0 && Math.abs(change) <= same) return later;
  }
  return null;
}

/** Whether the level after a fall was there already a moment before it: then it was no vessel that went, but a hand. */
function letsGo(mass: Float64Array, jump: Jump, step_s: number): boolean {
  if (jump.by > 0) return false;
  const first = Math.max(0, jump.from - Math.round(LEANS / step_s));
  for (let k = jump.from; k >= first; k--)
    if (mass[k]! <= mass[jump.to]! + LEAN_G / 4)
      return jump.by > -LIFT_G || presses(mass, k, jump.from, step_s);
  return false;
}

/** Whether a mass rises faster between two indices than it does under a kettle. */
function presses(mass: Float64Array, from: number, to: number, step_s: number): boolean {
  const over = Math.max(1, Math.round(0.3 / step_s));
  for (let k = from; k + over <= to; k++)
    if (mass[k + over]! - mass[k]! > PRESS_G_S * over * step_s) return true;
  return false;
}

/** Takes off what presses on the vessel or holds it up for a moment, the short ones first; in place. */
function straighten(
  mass: Float64Array,
  step_s: number,
  events: MassEvent[],
  moment: (k: number) => number,
): void {
  const bridge: Bridge = {
    fall: LEAN_G,
    rise: POUR_G_S * step_s,
    // A short pour and a balance set to zero right after it look like a press, but for how slowly they rise.
    really: (from, to, by) => by < LIFT_G || Math.abs(mass[to]!) > ZERO_G || presses(mass, from, to, step_s),
  };
  const pad = Math.max(1, Math.round(PAD / step_s));
  for (const seconds of LEANINGS)
    for (const sign of [1, -1] as const) {
      const width = Math.max(1, Math.round(seconds / step_s));
      for (const { from, to, by } of bridgeExcursions(mass, width, LEAN_G, pad, sign, bridge))
        events.push({
          what: by < -LIFT_G && seconds > 1 ? 'lifted' : 'knock',
          start_s: moment(from),
          end_s: moment(to),
          jump_g: by,
        });
    }
}

function eventRemarks(
  events: readonly MassEvent[],
  mass: Float64Array,
  start_s: number,
  step_s: number,
): TraceRemark[] {
  const remarks: TraceRemark[] = [];
  let knocked = 0;
  for (const { what, start_s: at, end_s, jump_g } of events) {
    const jump = figure(Math.abs(jump_g));
    if (what === 'knock') knocked++;
    else if (what === 'tare') {
      const before = figure(mass[Math.round((at - start_s) / step_s)] ?? 0);
      remarks.push(traceRemark('note', 'tare', { before }, figure(at)));
    } else if (what === 'lifted')
      remarks.push(traceRemark('note', 'lifted', { length: figure(end_s - at) }, figure(at)));
    else remarks.push(traceRemark('note', what, { jump }, figure(at)));
  }
  if (knocked > 0) remarks.push(traceRemark('note', 'knocks', { count: knocked }));
  return remarks;
}

function massRemarks(clean: Float64Array, noise: number): TraceRemark[] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let last = 0;
  for (const v of clean) {
    if (Number.isNaN(v)) continue;
    if (v < low) low = v;
    if (v > high) high = v;
    last = v;
  }
  if (!(high > low)) return [traceRemark('caution', 'mass_flat', { range: 0 })];
  const remarks: TraceRemark[] = [];
  if (high - low < 2) remarks.push(traceRemark('caution', 'mass_flat', { range: figure(high - low) }));
  else if (last < -0.5 * (high - low))
    remarks.push(traceRemark('caution', 'mass_falls', { fall: figure(-last) }));
  if (noise > 0.5) remarks.push(traceRemark('caution', 'noisy', { noise: figure(noise, 2) }));
  return remarks;
}
