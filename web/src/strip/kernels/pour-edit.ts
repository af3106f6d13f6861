/**
 * Moving and shaping pours on the time axis. Every function takes the plan's hand work and returns a new one; nothing is
 * written here. Rule of all of them: the result never overlaps a neighbour and never reaches past the lift, so a
 * drag can pass through nothing that the document's check would refuse.
 */
import { MAX_SECONDS, type Plan, type Pour, pourDuration, pourEnd } from '@pourline/core';
import { onGrid } from './snap.ts';

/** The part of a plan that stands on the time axis. */
export type Hands = Pick<Plan, 'pours' | 'actions' | 'lift_s' | 'outlet_opens_s'>;

export const LIMITS = {
  water_g: [0.5, 2_000],
  flow_g_s: [0.2, 60],
  duration_s: [0.5, 600],
} as const;

const clamp = (value: number, low: number, high: number): number => Math.min(Math.max(value, low), high);

/** Free time around one pour [s]: from the end of the one before to the start of the next or the lift. */
export interface Room {
  readonly from_s: number;
  readonly to_s: number;
}

/** The room pour `index` may fill while the others stand still. */
export function roomFor(hands: Hands, index: number): Room {
  const pour = hands.pours[index]!;
  let from_s = 0;
  let to_s = hands.lift_s ?? MAX_SECONDS;
  hands.pours.forEach((other, i) => {
    if (i === index) return;
    const earlier = other.start_s < pour.start_s || (other.start_s === pour.start_s && i < index);
    if (earlier) from_s = Math.max(from_s, pourEnd(other));
    else to_s = Math.min(to_s, other.start_s);
  });
  return { from_s, to_s: Math.max(to_s, from_s) };
}

const replace = (pours: readonly Pour[], index: number, pour: Pour): Pour[] =>
  pours.map((old, i) => (i === index ? pour : old));

/** Starts pour `index` at `start_s`, or as near as its room allows. The pour keeps its length and its grams. */
export function movePour<H extends Hands>(hands: H, index: number, start_s: number): H {
  const pour = hands.pours[index]!;
  const room = roomFor(hands, index);
  const latest = Math.max(room.from_s, room.to_s - pourDuration(pour));
  return withPours(
    hands,
    replace(hands.pours, index, { ...pour, start_s: within(start_s, room.from_s, latest) }),
  );
}

/**
 * Moves pour `index` and every later pour, action, opening and lift by the same time ("ripple"). Going back stops at the
 * pour before; going on stops where the last thing would pass the longest plan.
 */
export function movePourAndLater<H extends Hands>(hands: H, index: number, start_s: number): H {
  const pour = hands.pours[index]!;
  const later = (time: number): boolean => time >= pour.start_s;
  const before = hands.pours.filter((p, i) => i !== index && !later(p.start_s));
  const lowest = Math.ceil(before.reduce((end, p) => Math.max(end, pourEnd(p)), 0) * 1e3 - 1e-6) / 1e3;
  const last = hands.pours.reduce((end, p) => Math.max(end, pourEnd(p)), hands.lift_s ?? 0);
  const shift = clamp(start_s, lowest, Math.max(lowest, pour.start_s + MAX_SECONDS - last)) - pour.start_s;
  const moved = (time: number): number => tidy(later(time) ? time + shift : time);
  return {
    ...hands,
    pours: hands.pours.map((p) => ({ ...p, start_s: moved(p.start_s) })),
    actions: hands.actions.map((a) => ({ ...a, start_s: moved(a.start_s) })),
    lift_s: hands.lift_s === null ? null : moved(hands.lift_s),
    outlet_opens_s: hands.outlet_opens_s === null ? null : moved(hands.outlet_opens_s),
  };
}

/**
 * Ends pour `index` at `end_s`, or as near as its room and the flow limits allow. Grams stay; what changes is the
 * duration or the flow, whichever the pour is written in.
 */
export function endPourAt<H extends Hands>(hands: H, index: number, end_s: number): H {
  const pour = hands.pours[index]!;
  const room = roomFor(hands, index).to_s - pour.start_s;
  const least = pour.rate.by === 'duration' ? LIMITS.duration_s[0] : 0;
  const shortest = Math.max(least, pour.water_g / LIMITS.flow_g_s[1]);
  const longest = Math.min(LIMITS.duration_s[1], pour.water_g / LIMITS.flow_g_s[0], room);
  const duration = within(end_s - pour.start_s, shortest, longest);
  return withPours(hands, replace(hands.pours, index, withDuration(pour, duration)));
}

/** The same pour, lasting `duration_s`, in the terms it is written in. */
export function withDuration(pour: Pour, duration_s: number): Pour {
  return pour.rate.by === 'duration'
    ? { ...pour, rate: { by: 'duration', duration_s } }
    : {
        ...pour,
        rate: { by: 'flow', flow_g_s: Math.min(LIMITS.flow_g_s[1], ceilTidy(pour.water_g / duration_s)) },
      };
}

/**
 * Gives pour `index` other grams. A pour written by flow gets longer with more water, so it stops at its room; one written
 * by duration keeps its length and flows faster, so it stops at the flow limits.
 */
export function setPourGrams<H extends Hands>(hands: H, index: number, water_g: number): H {
  const pour = hands.pours[index]!;
  const [least, most] = LIMITS.water_g;
  let low: number = least;
  let high: number = most;
  if (pour.rate.by === 'flow') {
    const room = roomFor(hands, index).to_s - pour.start_s;
    high = Math.max(least, Math.min(high, pour.rate.flow_g_s * room));
  } else {
    low = Math.max(low, LIMITS.flow_g_s[0] * pour.rate.duration_s);
    high = Math.min(high, LIMITS.flow_g_s[1] * pour.rate.duration_s);
  }
  return withPours(
    hands,
    replace(hands.pours, index, { ...pour, water_g: floorTidy(clamp(water_g, low, high)) }),
  );
}

/** Adds a pour like its nearest neighbour in the free time at `start_s`; null when there is no room of a second. */
export function addPour<H extends Hands>(
  hands: H,
  start_s: number,
  id: string,
): { hands: H; index: number } | null {
  const at_s = tidy(Math.max(0, start_s));
  const like = nearestPour(hands.pours, at_s);
  if (!like || hands.pours.some((p) => at_s >= p.start_s && at_s < pourEnd(p))) return null;
  const trial: Pour = { ...like, id, start_s: at_s };
  const at = hands.pours.filter((p) => p.start_s <= trial.start_s).length;
  const pours = [...hands.pours.slice(0, at), trial, ...hands.pours.slice(at)];
  const room = roomFor({ ...hands, pours }, at).to_s - trial.start_s;
  if (room < 1) return null;
  const fitted = pourDuration(trial) <= room ? trial : shortened(trial, room);
  return { hands: withPours(hands, replace(pours, at, fitted)), index: at };
}

/** A pour cut to fit `room` seconds at its own flow. */
function shortened(pour: Pour, room: number): Pour {
  const flow = pour.water_g / pourDuration(pour);
  const water_g = Math.max(LIMITS.water_g[0], Math.floor(flow * room));
  return pour.rate.by === 'flow'
    ? { ...pour, water_g }
    : { ...pour, water_g, rate: { by: 'duration', duration_s: tidy(Math.min(room, water_g / flow)) } };
}

function nearestPour(pours: readonly Pour[], time_s: number): Pour | undefined {
  const before = pours.filter((p) => p.start_s <= time_s).sort((a, b) => b.start_s - a.start_s)[0];
  return before ?? [...pours].sort((a, b) => a.start_s - b.start_s)[0];
}

/** Takes pour `index` away. The last one stays: a plan needs one. */
export const removePour = <H extends Hands>(hands: H, index: number): H =>
  hands.pours.length <= 1
    ? hands
    : withPours(
        hands,
        hands.pours.filter((_, i) => i !== index),
      );

/** Moves a stir or swirl; it may lie anywhere in the plan, over pours too. */
export function moveAction<H extends Hands>(hands: H, index: number, start_s: number): H {
  const actions = hands.actions.map((a, i) =>
    i === index ? { ...a, start_s: tidy(clamp(start_s, 0, MAX_SECONDS)) } : a,
  );
  return { ...hands, actions };
}

/** Lifts the dripper at `time_s`, never before the last pour has ended. */
export function moveLift<H extends Hands>(hands: H, time_s: number): H {
  const last = hands.pours.reduce((end, p) => Math.max(end, pourEnd(p)), 0);
  return { ...hands, lift_s: within(time_s, Math.max(last, 0.5), MAX_SECONDS) };
}

/** Opens the outlet at `time_s`. */
export const moveOpening = <H extends Hands>(hands: H, time_s: number): H => ({
  ...hands,
  outlet_opens_s: tidy(clamp(time_s, 0, MAX_SECONDS)),
});

const withPours = <H extends Hands>(hands: H, pours: Pour[]): H => ({ ...hands, pours });

/** Milliseconds are finer than any hand; rounding there keeps binary crumbs out of documents. */
const tidy = (x: number): number => onGrid(x, 0.001);
/** Flow rounded up in its third decimal, so that the pour ends no later than asked. */
const ceilTidy = (x: number): number => Math.ceil(x * 1e3 - 1e-6) / 1e3;
/** A moment rounded to milliseconds inside bounds that may themselves be uneven: rounding must not step over them. */
const within = (x: number, low: number, high: number): number => {
  const rounded = tidy(clamp(x, low, high));
  if (rounded < low) return Math.min(Math.ceil(low * 1e3) / 1e3, high);
  return rounded > high ? Math.max(Math.floor(high * 1e3) / 1e3, low) : rounded;
};
/** Grams rounded down to a tenth of a milligram, so that a flow-written pour can never outgrow its room by rounding. */
const floorTidy = (x: number): number => Math.floor(x * 1e4 + 1e-6) / 1e4;
