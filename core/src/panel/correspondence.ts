import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { chanceFrom } from './random.ts';
import type { PermutationP } from './row-permutations.ts';
import { DRAWS } from './row-permutations.ts';

/** A cup or a word on the map. */
export interface MapPoint {
  /** Position in the table. */
  index: number;
  /** Share of all ticks. */
  mass: number;
  /** Principal coordinates, one per axis. */
  at: number[];
  /** Share of each axis's inertia that comes from this point: high ones give the axis its meaning. */
  contributions: number[];
}

/** A map of cups and words. */
export interface Correspondence {
  /** Share of the spread that each axis shows, largest first. */
  axes: { inertia: number; share: number }[];
  /** Total inertia: χ² of the table divided by its sum. */
  inertia: number;
  cups: MapPoint[];
  words: MapPoint[];
  /** Cups and words without a single tick; they have no place on the map. */
  empty: { cups: number[]; words: number[] };
}

/**
 * Correspondence analysis of a table of ticks: cups near each other were described alike, words near each other were used alike. Singular
 * value decomposition of D_r^−½ (P − rc′) D_c^−½; Greenacre 1984 (from memory). null when fewer than two cups or words have any tick.
 * @param table [cups][words]
 */
export function correspondence(table: readonly (readonly number[])[]): Correspondence | null {
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const cups = indices(table.length, (i) => sum(table[i]!) > 0);
  const words = indices(table[0]?.length ?? 0, (j) => table.some((row) => row[j]! > 0));
  if (cups.length < 2 || words.length < 2) return null;
  const total = sum(table.map(sum));
  const p = cups.map((i) => words.map((j) => table[i]![j]! / total));
  const r = p.map(sum);
  const c = words.map((_, j) => sum(p.map((row) => row[j]!)));
  const s = new Matrix(p.map((row, i) => row.map((v, j) => (v - r[i]! * c[j]!) / Math.sqrt(r[i]! * c[j]!))));
  const {
    leftSingularVectors: u,
    rightSingularVectors: v,
    diagonal,
  } = new SingularValueDecomposition(s, {
    autoTranspose: true,
  });
  const axes = indices(Math.min(cups.length, words.length) - 1, () => true);
  const inertia = sum(diagonal.map((d) => d * d));
  const place = (vectors: Matrix, masses: readonly number[], names: readonly number[]): MapPoint[] =>
    names.map((index, i) => ({
      index,
      mass: masses[i]!,
      at: axes.map((k) => (vectors.get(i, k) * diagonal[k]!) / Math.sqrt(masses[i]!)),
      contributions: axes.map((k) => vectors.get(i, k) ** 2),
    }));
  return {
    axes: axes.map((k) => ({
      inertia: diagonal[k]! ** 2,
      share: inertia > 0 ? diagonal[k]! ** 2 / inertia : 0,
    })),
    inertia,
    cups: place(u, r, cups),
    words: place(v, c, words),
    empty: {
      cups: indices(table.length, (i) => !cups.includes(i)),
      words: indices(table[0]!.length, (j) => !words.includes(j)),
    },
  };
}

const indices = (length: number, keep: (i: number) => boolean): number[] =>
  Array.from({ length }, (_, i) => i).filter(keep);

/** Total inertia of a table; 0 when it is empty. */
function inertiaOf(table: readonly (readonly number[])[]): number {
  const rows = table.map((row) => row.reduce((a, b) => a + b, 0));
  const columns = table[0]!.map((_, j) => table.reduce((t, row) => t + row[j]!, 0));
  const total = rows.reduce((a, b) => a + b, 0);
  let sum = 0;
  table.forEach((row, i) => {
    row.forEach((v, j) => {
      const expected = (rows[i]! * columns[j]!) / total;
      if (expected > 0) sum += (v - expected) ** 2 / expected;
    });
  });
  return total > 0 ? sum / total : 0;
}

/**
 * Are the cups described differently at all? Each taster's whole ballots are handed out to the cups at random, many times; p is how often
 * the map is as spread out as the one seen. Holds although one taster's ticks depend on each other, where a χ² would not.
 * @param ballots [tasters][cups][words], 1 for ticked
 */
export function describedDifferently(
  ballots: readonly (readonly (readonly number[])[])[],
  seed = 1,
  draws = DRAWS / 10,
): PermutationP {
  const table = (of: readonly (readonly (readonly number[])[])[]) =>
    of[0]!.map((row, c) => row.map((_, w) => of.reduce((t, taster) => t + taster[c]![w]!, 0)));
  const seen = inertiaOf(table(ballots));
  const chance = chanceFrom(seed);
  const work = ballots.map((cups) => [...cups]);
  let reached = 1;
  for (let draw = 0; draw < draws; draw++) {
    for (const cups of work) chance.shuffle(cups);
    if (inertiaOf(table(work)) >= seen - 1e-12) reached++;
  }
  return { p: reached / (draws + 1), from: draws };
}
