import type { Model } from './model.ts';
import { raise, type State } from './state.ts';

type Pool = Model['pools'][number];

/** A stretch in which the certain use of a pool is the same. */
interface Segment {
  from: number;
  to: number;
  use: number;
}

/**
 * Time-table reasoning for one pool: a task surely runs from its latest start to its earliest end; where the sum of what surely runs leaves
 * too little, no other task can. Each rise is explained at one point of time (Schutt, Feydy, Stuckey & Wallace 2011, from memory).
 */
export function propagatePool(s: State, model: Model, pool: Pool): boolean {
  const segments = certainUse(s, model, pool);
  for (const { from, use } of segments)
    if (use > pool.capacity) {
      s.conflict = factsAt(s, model, pool, from, pool.capacity, -1);
      return false;
    }
  for (let u = 0; u < pool.tasks.length; u++) {
    const i = pool.tasks[u]!;
    if (s.bounds[2 * i]! + s.bounds[2 * i + 1]! === 0) continue;
    const room = pool.capacity - pool.needs[u]!;
    if (!pushLater(s, model, pool, segments, i, room)) return false;
    if (!pushEarlier(s, model, pool, segments, i, room)) return false;
  }
  return true;
}

/** Certain use over time, in order; stretches without any are left out. */
function certainUse(s: State, model: Model, pool: Pool): Segment[] {
  const events: [at: number, change: number][] = [];
  for (let u = 0; u < pool.tasks.length; u++) {
    const i = pool.tasks[u]!;
    const from = -s.bounds[2 * i + 1]!;
    const to = s.bounds[2 * i]! + model.durations[i]!;
    if (from < to) events.push([from, pool.needs[u]!], [to, -pool.needs[u]!]);
  }
  events.sort((a, b) => a[0] - b[0]);
  const segments: Segment[] = [];
  let use = 0;
  for (let e = 0; e < events.length; ) {
    const from = events[e]![0];
    while (e < events.length && events[e]![0] === from) use += events[e++]![1];
    if (use > 0) segments.push({ from, to: events[e]![0], use });
  }
  return segments;
}

/** Whether a task itself is in the certain use at a stretch: then it is no hindrance to itself. */
const isIn = (s: State, model: Model, i: number, { from }: Segment): boolean =>
  -s.bounds[2 * i + 1]! <= from && from < s.bounds[2 * i]! + model.durations[i]!;

function pushLater(
  s: State,
  model: Model,
  pool: Pool,
  segments: readonly Segment[],
  i: number,
  room: number,
): boolean {
  const length = model.durations[i]!;
  for (const segment of segments) {
    const start = s.bounds[2 * i]!;
    if (segment.from >= start + length) break;
    if (segment.to <= start || segment.use <= room || isIn(s, model, i, segment)) continue;
    // Pushed past the stretch in steps no longer than the task, each with a point in time that forbids it.
    let at = start;
    while (at < segment.to) {
      const point = Math.min(segment.to, at + length) - 1;
      const facts = factsAt(s, model, pool, point, room, i);
      facts.push(2 * i, point + 1 - length);
      if (!raise(s, 2 * i, point + 1, { kind: 'facts', facts })) return false;
      at = point + 1;
    }
  }
  return true;
}

function pushEarlier(
  s: State,
  model: Model,
  pool: Pool,
  segments: readonly Segment[],
  i: number,
  room: number,
): boolean {
  const length = model.durations[i]!;
  for (let k = segments.length - 1; k >= 0; k--) {
    const segment = segments[k]!;
    const end = -s.bounds[2 * i + 1]! + length;
    if (segment.to <= end - length) break;
    if (segment.from >= end || segment.use <= room || isIn(s, model, i, segment)) continue;
    let until = end;
    while (until > segment.from) {
      const point = Math.max(segment.from, until - length);
      const facts = factsAt(s, model, pool, point, room, i);
      facts.push(2 * i + 1, -point);
      if (!raise(s, 2 * i + 1, length - point, { kind: 'facts', facts })) return false;
      until = point;
    }
  }
  return true;
}

/** Which tasks surely run at a point of time and together need more than `room`; the task asked about is left out. */
function factsAt(s: State, model: Model, pool: Pool, point: number, room: number, asked: number): number[] {
  const running: number[] = [];
  for (let u = 0; u < pool.tasks.length; u++) {
    const j = pool.tasks[u]!;
    if (j === asked) continue;
    if (-s.bounds[2 * j + 1]! <= point && point < s.bounds[2 * j]! + model.durations[j]!) running.push(u);
  }
  running.sort((a, b) => pool.needs[b]! - pool.needs[a]!);
  const facts: number[] = [];
  let use = 0;
  for (const u of running) {
    if (use > room) break;
    use += pool.needs[u]!;
    const j = pool.tasks[u]!;
    facts.push(2 * j, point + 1 - model.durations[j]!, 2 * j + 1, -point);
  }
  return facts;
}

/**
 * Two tasks that never run at once: when the first can no longer come first, it must come second.
 */
export function propagatePairs(s: State, model: Model): boolean {
  const { apart, durations } = model;
  for (let p = 0; p < apart.length; p += 2) {
    const a = apart[p]!;
    const b = apart[p + 1]!;
    if (s.bounds[2 * a]! + durations[a]! > -s.bounds[2 * b + 1]! && !orderPair(s, durations, b, a))
      return false;
    if (s.bounds[2 * b]! + durations[b]! > -s.bounds[2 * a + 1]! && !orderPair(s, durations, a, b))
      return false;
  }
  return true;
}

/** `first` before `second`, because the other way round is impossible. */
function orderPair(s: State, durations: Int32Array, first: number, second: number): boolean {
  const latest = -s.bounds[2 * first + 1]!;
  const why = [2 * second, latest - durations[second]! + 1, 2 * first + 1, -latest];
  const from = s.bounds[2 * first]!;
  const until = s.bounds[2 * second + 1]!;
  const length = durations[first]!;
  if (from + length > s.bounds[2 * second]!) {
    const facts = [...why, 2 * first, from];
    if (!raise(s, 2 * second, from + length, { kind: 'facts', facts })) return false;
  }
  if (until + length > s.bounds[2 * first + 1]!) {
    const facts = [...why, 2 * second + 1, until];
    if (!raise(s, 2 * first + 1, until + length, { kind: 'facts', facts })) return false;
  }
  return true;
}
