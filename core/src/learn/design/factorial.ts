import { aliasesOf, resolutionOf, subgroup } from './aliases.ts';
import type { Design } from './types.ts';

/** What every design has that is not said otherwise. */
export const plainDesign = (
  kind: Design['kind'],
  points: readonly (readonly number[])[],
  centres = 0,
): Design => ({
  kind,
  factors: points[0]!.length,
  points,
  centres,
  resolution: null,
  words: [],
  aliases: [],
  alpha: null,
});

/** Corners of the cube [2^k][k], the first factor changing fastest (Yates' order). */
export const corners = (k: number): number[][] =>
  Array.from({ length: 2 ** k }, (_, run) =>
    Array.from({ length: k }, (_, factor) => ((run >> factor) & 1 ? 1 : -1)),
  );

const centreRuns = (k: number, centres: number): number[][] =>
  Array.from({ length: centres }, () => new Array<number>(k).fill(0));

/** All combinations of two levels of k factors, with centre runs. 2^k runs. */
export const fullFactorial = (k: number, centres = 0): Design =>
  plainDesign('full_factorial', [...corners(k), ...centreRuns(k, centres)], centres);

/**
 * Part of the combinations of two levels: the first factors run through all of theirs and each further one is the product of some of
 * them. `generators[i]` lists the basic factors whose product makes factor `basic + i`; [[0, 1]] makes a third factor from the first two.
 * The words of the defining relation, its resolution and what is confused with what follow from them.
 */
export function fractionalFactorial(
  basic: number,
  generators: readonly (readonly number[])[],
  centres = 0,
): Design {
  const k = basic + generators.length;
  const runs = corners(basic).map((row) => [
    ...row,
    ...generators.map((of) => of.reduce((product, factor) => product * row[factor]!, 1)),
  ]);
  const words = subgroup(generators.map((of, i) => [...of, basic + i]));
  return {
    ...plainDesign('fractional_factorial', [...runs, ...centreRuns(k, centres)], centres),
    resolution: resolutionOf(words),
    words,
    aliases: aliasesOf(k, words),
  };
}

/**
 * Generators of the highest resolution, and the fewest shortest words among those, for k factors in 2^basic runs, found by trying all
 * sets (k up to 9); null when there is none of resolution III or more. Agrees with the catalogues in use.
 */
export function bestGenerators(k: number, basic: number): number[][] | null {
  const wanted = k - basic;
  if (wanted < 1 || 2 ** basic - 1 < k) return null;
  const choices = Array.from({ length: 2 ** basic }, (_, mask) => factorsIn(mask))
    .filter((of) => of.length >= 2)
    .sort((a, b) => b.length - a.length);
  let best: { generators: number[][]; lengths: number[] } | null = null;
  let left = 30_000;
  const better = (a: readonly number[], b: readonly number[]) => {
    // Fewer short words, the shortest first.
    for (let length = 0; length < a.length; length++)
      if (a[length] !== b[length]) return a[length]! < b[length]!;
    return false;
  };
  const grow = (from: number, chosen: number[][]): void => {
    if (left <= 0) return;
    if (chosen.length === wanted) {
      left--;
      const lengths = new Array<number>(k + 1).fill(0);
      for (const word of subgroup(chosen.map((of, i) => [...of, basic + i]))) lengths[word.length]!++;
      if (best === null || better(lengths, best.lengths)) best = { generators: [...chosen], lengths };
      return;
    }
    for (let i = from; i < choices.length; i++) grow(i + 1, [...chosen, choices[i]!]);
  };
  grow(0, []);
  return (best as { generators: number[][] } | null)?.generators ?? null;
}

const factorsIn = (mask: number): number[] =>
  Array.from({ length: 31 }, (_, i) => i).filter((i) => (mask >> i) & 1);

/** First row of the 12-run screening design; cyclic (Plackett & Burman 1946, from memory; orthogonality is tested). */
const ROW_12 = [1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1];

/**
 * Twelve runs for up to 11 factors, main effects clear of each other (Plackett & Burman). Products of two factors leak, in parts of a third,
 * into all main effects they are not of.
 */
export function screening12(k: number, centres = 0): Design {
  const rows = Array.from({ length: 11 }, (_, run) =>
    Array.from({ length: k }, (_, factor) => ROW_12[(factor - run + 11) % 11]!),
  );
  rows.push(new Array<number>(k).fill(-1));
  return { ...plainDesign('screening_12', [...rows, ...centreRuns(k, centres)], centres), resolution: 3 };
}
