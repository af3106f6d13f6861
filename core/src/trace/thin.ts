import { type Course, type CourseKind, MAX_COURSE_POINTS } from '../documents/index.ts';
import { cleanMass } from './clean-mass.ts';
import { poursIn } from './find-pours.ts';
import type { Recording, TraceChannel } from './types.ts';

/** A course may stray from what was recorded by this much before a point is kept: g, or K. */
const TOLERANCE = { mass: 0.3, temperature: 0.15 };

/**
 * Fewest points through which straight lines stay within `tolerance` of a course, as Douglas and Peucker 1973 choose them; at most `limit`, the most
 * needed first. NaN are left out. O(n log n) for what a brew records; no recursion, so any length will do.
 */
export function thinned(
  time_s: Float64Array,
  value: Float64Array,
  tolerance: number,
  limit: number,
): { time_s: number[]; value: number[] } {
  const good: number[] = [];
  for (let k = 0; k < value.length; k++) if (!Number.isNaN(value[k]!)) good.push(k);
  if (good.length <= 2) return { time_s: good.map((k) => time_s[k]!), value: good.map((k) => value[k]!) };
  const kept = new Set<number>([0, good.length - 1]);
  let open = [farthest(time_s, value, good, 0, good.length - 1)];
  while (open.length > 0 && kept.size < limit) {
    // Stretches by how far they stray: when points run out, the worst have been mended.
    open.sort((a, b) => b.far - a.far);
    const next: ReturnType<typeof farthest>[] = [];
    for (const { from, to, at, far } of open) {
      if (far <= tolerance || kept.size >= limit) continue;
      kept.add(at);
      next.push(farthest(time_s, value, good, from, at), farthest(time_s, value, good, at, to));
    }
    open = next;
  }
  const order = [...kept].sort((a, b) => a - b).map((i) => good[i]!);
  return { time_s: order.map((k) => time_s[k]!), value: order.map((k) => value[k]!) };
}

function farthest(
  time_s: Float64Array,
  value: Float64Array,
  good: readonly number[],
  from: number,
  to: number,
) {
  const [t0, t1] = [time_s[good[from]!]!, time_s[good[to]!]!];
  const [v0, v1] = [value[good[from]!]!, value[good[to]!]!];
  let [at, far] = [from, 0];
  for (let i = from + 1; i < to; i++) {
    const t = time_s[good[i]!]!;
    const line = v0 + ((v1 - v0) * (t - t0)) / (t1 - t0);
    const apart = Math.abs(value[good[i]!]! - line);
    if (apart > far) [at, far] = [i, apart];
  }
  return { from, to, at, far };
}

/**
 * Least and greatest of every so many values, for drawing a long recording: at most `points` of both, in order of time. Linear time.
 */
export function envelope(
  time_s: Float64Array,
  value: Float64Array,
  points: number,
): { time_s: Float64Array; value: Float64Array } {
  const n = value.length;
  const every = Math.ceil((2 * n) / Math.max(2, points));
  if (every <= 2) return { time_s, value };
  const times: number[] = [];
  const values: number[] = [];
  for (let from = 0; from < n; from += every) {
    let [low, high] = [-1, -1];
    for (let k = from; k < Math.min(n, from + every); k++) {
      const v = value[k]!;
      if (Number.isNaN(v)) continue;
      if (low < 0 || v < value[low]!) low = k;
      if (high < 0 || v > value[high]!) high = k;
    }
    if (low < 0) continue;
    for (const k of low < high ? [low, high] : high < low ? [high, low] : [low]) {
      times.push(time_s[k]!);
      values.push(value[k]!);
    }
  }
  return { time_s: Float64Array.from(times), value: Float64Array.from(values) };
}

const kindOf = ({ use, place }: TraceChannel): CourseKind =>
  use === 'temperature' ? `${place ?? 'kettle'}_C` : use === 'poured' ? 'poured_g' : 'beverage_g';

/**
 * Channels of a recording as the courses a trial keeps, on the clock of the brew: masses cleaned, everything thinned to
 * what a drawing shows. @param zero_s Moment of the recording at which that clock starts.
 */
export function coursesOf(recording: Recording, zero_s: number, limit = 240): Course[] {
  return recording.channels.flatMap((channel): Course[] => {
    const mass = channel.use !== 'temperature';
    const clean = mass ? cleanMass(recording.time_s, channel.value) : null;
    const time = clean ? clean.time_s : recording.time_s;
    const value = clean ? clean.mass_g : channel.value;
    const noise = clean ? 2 * clean.noise_g : 0;
    const tolerance = Math.max(mass ? TOLERANCE.mass : TOLERANCE.temperature, noise);
    const thin = thinned(time, value, tolerance, Math.min(limit, MAX_COURSE_POINTS));
    const points = thin.time_s
      .map((t, k) => [round(t - zero_s, 2), round(thin.value[k]!, 2)] as const)
      .filter(([t]) => t >= -600 && t <= 7_200);
    if (points.length < 2) return [];
    return [{ of: kindOf(channel), time_s: points.map(([t]) => t), value: points.map(([, v]) => v) }];
  });
}

const round = (x: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(x * scale) / scale;
};

/** The pours of a recording's poured mass; null when it has none. */
export function poursOf(recording: Recording): ReturnType<typeof poursIn> | null {
  const poured = recording.channels.find(({ use }) => use === 'poured');
  return poured ? poursIn(cleanMass(recording.time_s, poured.value)) : null;
}
