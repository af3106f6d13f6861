/** Half a day [s]: a clock that falls back by more has passed midnight. */
const HALF_DAY = 43_200;
const DAY = 86_400;
/** Steps back of at most this are rows out of order, not a new recording [s]. */
const SLIP = 1;

/** What was found when rows were put into the order of their times. */
export interface Ordered {
  /** Indices of the rows kept, in order of time. */
  rows: Uint32Array;
  /** Their times, strictly rising from 0 [s]. */
  time_s: Float64Array;
  turned: boolean;
  pastMidnight: boolean;
  /** Recordings found one after another in the file; 1 when there is one. */
  recordings: number;
  /** Row that the one taken starts at. */
  from: number;
  outOfOrder: number;
  /** Later rows of the same time, by index of the row they are joined to; `[row kept, row joined]`. */
  doubled: readonly (readonly [number, number])[];
  /** Share of steps that go back, before anything was done. */
  falling: number;
}

/**
 * Puts rows into the order of their times, in linear time: a file from last to first is turned round, a clock is carried past
 * midnight, of several recordings the longest is taken, single rows out of order are left out, rows of one time are joined.
 * @param times Seconds, finite.
 * @param daily They are times of day, so that a fall by half a day is midnight.
 */
export function orderTimes(times: Float64Array, daily: boolean): Ordered {
  const n = times.length;
  let falls = 0;
  for (let i = 1; i < n; i++) if (times[i]! < times[i - 1]!) falls++;
  const falling = n > 1 ? falls / (n - 1) : 0;
  const turned = falling > 0.9;
  const at = (k: number): number => (turned ? n - 1 - k : k);
  const time = new Float64Array(n);
  let shift = 0;
  let pastMidnight = false;
  const starts = [0];
  for (let k = 0; k < n; k++) {
    let t = times[at(k)]! + shift;
    const before = k > 0 ? time[k - 1]! : t;
    if (daily && before - t > HALF_DAY) {
      shift += DAY;
      t += DAY;
      pastMidnight = true;
    }
    if (before - t > SLIP && k > 0) starts.push(k);
    time[k] = t;
  }
  const { start, end } = longest(starts, n, time);
  return {
    ...keep(time, at, start, end),
    turned,
    pastMidnight,
    recordings: starts.length,
    from: at(start),
    falling,
  };
}

/** The stretch between two restarts with the most rows; of equals, the one that lasts longest. */
function longest(starts: readonly number[], n: number, time: Float64Array): { start: number; end: number } {
  let best = { start: 0, end: starts[1] ?? n };
  starts.forEach((start, i) => {
    const end = starts[i + 1] ?? n;
    const [rows, held] = [end - start, best.end - best.start];
    const lasts = (time[end - 1] ?? 0) - (time[start] ?? 0);
    const lasted = (time[best.end - 1] ?? 0) - (time[best.start] ?? 0);
    if (rows > held || (rows === held && lasts > lasted)) best = { start, end };
  });
  return best;
}

function keep(time: Float64Array, at: (k: number) => number, start: number, end: number) {
  const rows = new Uint32Array(end - start);
  const times = new Float64Array(end - start);
  const doubled: (readonly [number, number])[] = [];
  let kept = 0;
  let outOfOrder = 0;
  const zero = time[start] ?? 0;
  for (let k = start; k < end; k++) {
    const t = time[k]! - zero;
    const last = kept > 0 ? times[kept - 1]! : Number.NEGATIVE_INFINITY;
    if (t < last) outOfOrder++;
    else if (t === last) doubled.push([rows[kept - 1]!, at(k)]);
    else {
      rows[kept] = at(k);
      times[kept++] = t;
    }
  }
  return { rows: rows.slice(0, kept), time_s: times.slice(0, kept), outOfOrder, doubled };
}
