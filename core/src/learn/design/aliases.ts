import type { AliasSet } from './types.ts';

/** Factors that stand an odd number of times in both: the product of two effects. */
export function product(a: readonly number[], b: readonly number[]): number[] {
  const odd = new Set(a);
  for (const factor of b) if (!odd.delete(factor)) odd.add(factor);
  return [...odd].sort((x, y) => x - y);
}

/** All words of a defining relation from its generating words: their products, without the identity. */
export function subgroup(generating: readonly (readonly number[])[]): number[][] {
  let words: number[][] = [[]];
  for (const word of generating) words = [...words, ...words.map((other) => product(other, word))];
  return words.slice(1).sort((a, b) => a.length - b.length || a.join().localeCompare(b.join()));
}

/** Length of the shortest word; null for none. */
export const resolutionOf = (words: readonly (readonly number[])[]): number | null =>
  words.length === 0 ? null : Math.min(...words.map((word) => word.length));

/** Main effects and two-factor products that a defining relation puts into one number, sets of one left out. */
export function aliasesOf(k: number, words: readonly (readonly number[])[]): AliasSet[] {
  const effects: number[][] = [
    ...Array.from({ length: k }, (_, i) => [i]),
    ...Array.from({ length: k }, (_, i) =>
      Array.from({ length: k - i - 1 }, (_, j) => [i, i + 1 + j]),
    ).flat(),
  ];
  const seen = new Set<string>();
  const sets: number[][][] = [];
  for (const effect of effects) {
    if (seen.has(effect.join())) continue;
    const set = [effect, ...words.map((word) => product(effect, word))]
      .filter((other) => other.length > 0 && other.length <= 2)
      .sort((a, b) => a.length - b.length || a.join().localeCompare(b.join()));
    for (const other of set) seen.add(other.join());
    if (set.length > 1) sets.push(set);
  }
  return sets;
}
