import { middle } from './even-steps.ts';

/** A sudden change of the reading that no stream of water makes. */
export interface Jump {
  /** Last index before it and first after it. */
  from: number;
  to: number;
  /** Change of level, what was poured meanwhile left out. */
  by: number;
  /** Level before and after, at its middle. */
  before: number;
  after: number;
}

/** Time over which a jump shows its speed [s]. */
const OVER = 0.3;
/** Faster upward than this is no pour [g/s]; kettles give up to 30. */
const UP_G_S = 60;
/** Water does not leave a balance: a fall of this much within that time is no pour either [g]. */
const DOWN_G = 2.5;
/** A balance that smooths its reading creeps on after a jump: as long as it moves faster than this [g/s], and for at most … */
const CREEP_G_S = 1.5;
/** … this long [s]. */
const CREEPS = 2;
/** Time beside a jump from which its levels are taken [s]. */
const BESIDE = 0.6;

/**
 * Finds jumps of a mass over even steps, after single spikes were taken out: upward faster than any pour, or downward at all.
 * @param noise Standard deviation of a reading [g].
 */
export function findJumps(mass: Float64Array, step_s: number, noise: number): Jump[] {
  const over = Math.max(1, Math.round(OVER / step_s));
  const up = Math.max(UP_G_S * over * step_s, 12 * noise);
  const down = -Math.max(DOWN_G, 10 * noise);
  const jumps: Jump[] = [];
  const n = mass.length;
  let k = 0;
  while (k + over < n) {
    const change = mass[k + over]! - mass[k]!;
    if (!(change > up || change < down)) {
      k++;
      continue;
    }
    const from = k;
    // On as long as it keeps changing too fast in the same sense.
    let to = k + over;
    while (to + 1 < n) {
      const next = mass[Math.min(n - 1, to + 1)]! - mass[to + 1 - over]!;
      if (change > 0 ? !(next > up) : !(next < down)) break;
      to++;
    }
    const [a, b] = trimmed(mass, from, to, change);
    const end = crept(mass, b, change > 0, step_s, 1);
    const start = Math.max(jumps.at(-1)?.to ?? 0, crept(mass, a, change > 0, step_s, -1));
    jumps.push(levels(mass, step_s, start, end));
    to = end;
    k = to;
  }
  return jumps;
}

/** Takes quiet steps off both ends of a stretch that holds a jump. */
function trimmed(mass: Float64Array, from: number, to: number, change: number): [number, number] {
  const least = Math.abs(change) / 20;
  let [a, b] = [from, to];
  while (a + 1 < b && Math.abs(mass[a + 1]! - mass[a]!) < least) a++;
  while (b - 1 > a && Math.abs(mass[b]! - mass[b - 1]!) < least) b--;
  return [a, b];
}

/** Where what creeps on in the same sense ends, going forward (1) or back (−1) from an index. */
function crept(mass: Float64Array, from: number, up: boolean, step_s: number, way: 1 | -1): number {
  const reach = Math.round((way > 0 ? CREEPS : CREEPS / 2) / step_s);
  const last = Math.max(0, Math.min(mass.length - 1, from + way * reach));
  const two = Math.max(1, Math.round(0.2 / step_s));
  let k = from;
  while (k !== last) {
    const on = Math.max(0, Math.min(mass.length - 1, k + way * two));
    const rate = (way * (mass[on]! - mass[k]!)) / (two * step_s);
    if (up ? rate < CREEP_G_S : rate > -CREEP_G_S) break;
    k += way;
  }
  return k;
}

function levels(mass: Float64Array, step_s: number, from: number, to: number): Jump {
  const reach = Math.max(2, Math.round(BESIDE / step_s));
  const centre = (from + to) / 2;
  const before = levelAt(mass, Math.max(0, from - reach), from, centre);
  const after = levelAt(mass, to, Math.min(mass.length - 1, to + reach), centre);
  return { from, to, before, after, by: after - before };
}

/** Level of a stretch carried on to an index: its middle value plus its slope, which counts only when the stretch plainly rises. */
function levelAt(mass: Float64Array, a: number, b: number, at: number): number {
  const part = Array.from(mass.subarray(a, b + 1)).filter((v) => !Number.isNaN(v));
  if (part.length === 0) return 0;
  const half = part.length >> 1;
  const slope =
    part.length >= 4 ? (middle(part.slice(-half)) - middle(part.slice(0, half))) / (part.length - half) : 0;
  const rises = slope * part.length > 1 ? slope : 0;
  return middle(part) + rises * (at - (a + b) / 2);
}
