/** A stretch that leaves a rising course and comes back to it. */
export interface Excursion {
  /** Last index before it and first after it. */
  from: number;
  to: number;
  /** Farthest it went, with its sign. */
  by: number;
}

/** Least (sign 1) or greatest (−1) of the values from `k − behind` to `k + ahead`, for every k; linear time. */
function extreme(values: Float64Array, behind: number, ahead: number, sign: 1 | -1): Float64Array {
  const n = values.length;
  const found = new Float64Array(n);
  const queue = new Int32Array(n);
  let head = 0;
  let tail = 0;
  let next = 0;
  for (let k = 0; k < n; k++) {
    const last = Math.min(n - 1, k + ahead);
    for (; next <= last; next++) {
      while (tail > head && sign * values[queue[tail - 1]!]! >= sign * values[next]!) tail--;
      queue[tail++] = next;
    }
    while (queue[head]! < k - behind) head++;
    found[k] = values[queue[head]!]!;
  }
  return found;
}

/**
 * A course without what rises out of it for less than `width` steps: opening, of mathematical morphology (Matheron, Serra; from memory). A course
 * that only rises comes out as it went in, whatever its corners. With sign −1 what falls out of it is filled: closing.
 */
export function opened(values: Float64Array, width: number, sign: 1 | -1 = 1): Float64Array {
  const eroded = extreme(values, 0, width, sign);
  return extreme(eroded, width, 0, sign === 1 ? -1 : 1);
}

/** What a course may do between the two ends of an excursion: fall by `fall`, or rise by that and `rise` a step. */
export interface Bridge {
  fall: number;
  rise: number;
  /** Whether a stretch that fits is one indeed. */
  really: (from: number, to: number, by: number) => boolean;
}

/**
 * Finds excursions to one side that last less than `width` steps and go farther than `least`, and draws a straight line over each, `pad` steps wider
 * than what is seen of it; in place. One whose ends do not fit together is none: after it the course goes on from elsewhere.
 */
export function bridgeExcursions(
  values: Float64Array,
  width: number,
  least: number,
  pad: number,
  sign: 1 | -1,
  bridge: Bridge,
): Excursion[] {
  const base = opened(values, width, sign);
  const found: Excursion[] = [];
  const n = values.length;
  const edge = least / 3;
  let k = 0;
  while (k < n) {
    let by = values[k]! - base[k]!;
    if (Math.abs(by) <= edge) {
      k++;
      continue;
    }
    const first = k;
    for (; k < n && Math.abs(values[k]! - base[k]!) > edge; k++)
      if (Math.abs(values[k]! - base[k]!) > Math.abs(by)) by = values[k]! - base[k]!;
    // What touches an end of the recording cannot be told from what stays.
    if (Math.abs(by) < least || first === 0 || k === n) continue;
    const from = Math.max(0, first - 1 - pad);
    const to = Math.min(n - 1, k + pad);
    const change = values[to]! - values[from]!;
    const fits = change >= -bridge.fall && change <= bridge.fall + bridge.rise * (to - from);
    if (fits && bridge.really(from, to, by)) found.push({ from, to, by });
  }
  for (const { from, to } of found)
    for (let i = from + 1; i < to; i++)
      values[i] = values[from]! + ((values[to]! - values[from]!) * (i - from)) / (to - from);
  return found;
}
