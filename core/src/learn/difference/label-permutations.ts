import { logChoose } from '../../panel/distributions.ts';
import { chanceFrom } from '../../panel/random.ts';
import { DRAWS, type PermutationP } from '../../panel/row-permutations.ts';

/** Values of one sitting, and how many of them, counted from the front, carry the label b. */
export interface LabelledGroup {
  b: readonly number[];
  a: readonly number[];
}

/** Ways to hand labels out up to which all are gone through. */
const MOST_WAYS = 200_000;

/** ln of the ways to hand the labels out within every sitting. */
const logWays = (groups: readonly LabelledGroup[]): number =>
  groups.reduce((t, { a, b }) => t + logChoose(a.length + b.length, b.length), 0);

/**
 * Smallest two-sided p that such counts can give, whatever is measured: one in all ways, or two when swapping both labels
 * gives the mirror image.
 */
export function leastP(groups: readonly { a: number; b: number }[]): number {
  const ways = Math.exp(groups.reduce((t, { a, b }) => t + logChoose(a + b, b), 0));
  const mirrored = groups.every(({ a, b }) => a === b || a === 0 || b === 0);
  return Math.min(1, (mirrored ? 2 : 1) / Math.round(ways));
}

const meanOf = (values: readonly number[]) => values.reduce((t, v) => t + v, 0) / values.length;

/**
 * Chance of a difference of means as large as seen or larger, either way, when labels are handed out at random within each sitting:
 * exact while that is at most 200 000 ways, else over random draws, the one seen counted among them (Davison & Hinkley 1997,
 * 4.3; from memory). Sittings are weighted as least squares weights them.
 */
export function labelPermutations(groups: readonly LabelledGroup[], seed: number): PermutationP {
  const both = groups.filter(({ a, b }) => a.length > 0 && b.length > 0);
  if (both.length === 0) return { p: 1, from: 'all' };
  const centred = both.map(({ a, b }) => {
    const all = [...b, ...a];
    const mean = meanOf(all);
    // With the mean taken off, w·(mean b − mean a) is the plain sum over b, for counts that stay as they are.
    return { values: all.map((v) => v - mean), b: b.length };
  });
  const seen = Math.abs(centred.reduce((t, g) => t + sum(g.values.slice(0, g.b)), 0));
  const scale = centred.reduce((t, g) => t + g.values.reduce((s, v) => s + Math.abs(v), 0), 0);
  const least = seen - 1e-9 * scale;
  if (logWays(both) <= Math.log(MOST_WAYS)) return { p: exactShare(centred, least), from: 'all' };
  const chance = chanceFrom(seed);
  let reached = 1;
  for (let draw = 0; draw < DRAWS; draw++) {
    let total = 0;
    for (const { values, b } of centred) total += sum(chance.shuffle(values).slice(0, b));
    if (Math.abs(total) >= least) reached++;
  }
  return { p: reached / (DRAWS + 1), from: DRAWS };
}

const sum = (values: readonly number[]): number => values.reduce((t, v) => t + v, 0);

function exactShare(groups: readonly { values: readonly number[]; b: number }[], least: number): number {
  const sums = groups.map(({ values, b }) => subsetSums(values, b));
  let [reached, total] = [0, 0];
  const walk = (k: number, sofar: number): void => {
    if (k === sums.length) {
      total++;
      if (Math.abs(sofar) >= least) reached++;
      return;
    }
    for (const one of sums[k]!) walk(k + 1, sofar + one);
  };
  walk(0, 0);
  return reached / total;
}

/** Sums of all choices of `count` of the values. */
function subsetSums(values: readonly number[], count: number): number[] {
  const found: number[] = [];
  const choose = (from: number, left: number, sofar: number): void => {
    if (left === 0) {
      found.push(sofar);
      return;
    }
    for (let i = from; i <= values.length - left; i++) choose(i + 1, left - 1, sofar + values[i]!);
  };
  choose(0, count, 0);
  return found;
}
