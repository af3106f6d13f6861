import { sameWord, type TastingWord } from '@pourline/core';

/** A word as it stands in the outline. */
export interface TreeRow extends TastingWord {
  /** Place in the list of the document. */
  at: number;
  depth: number;
}

/** Words in the order of the outline: each under its wider one, as listed. Words that hang nowhere stand at the end, at the top level. */
export function inTreeOrder(words: readonly TastingWord[]): TreeRow[] {
  const rows: TreeRow[] = [];
  const done = new Set<number>();
  const walk = (parent: string | null, depth: number): void => {
    words.forEach((word, at) => {
      const under =
        parent === null
          ? word.parent === null
          : word.parent !== null && sameWord(word.parent) === sameWord(parent);
      if (!under || done.has(at)) return;
      done.add(at);
      rows.push({ ...word, at, depth });
      walk(word.word, depth + 1);
    });
  };
  walk(null, 0);
  words.forEach((word, at) => {
    if (!done.has(at)) rows.push({ ...word, at, depth: 0 });
  });
  return rows;
}

/** Renames a word; the words under it follow. */
export function renameWord(words: readonly TastingWord[], at: number, to: string): TastingWord[] {
  const old = words[at]?.word ?? '';
  return words.map((word, i) => {
    if (i === at) return { ...word, word: to };
    return word.parent !== null && sameWord(word.parent) === sameWord(old) ? { ...word, parent: to } : word;
  });
}

/** Adds a word under another, under a name that is free. */
export function addUnder(
  words: readonly TastingWord[],
  parent: string | null,
  wanted: string,
): TastingWord[] {
  const taken = new Set(words.map(({ word }) => sameWord(word)));
  let name = wanted;
  for (let n = 2; taken.has(sameWord(name)); n++) name = `${wanted} ${n}`;
  return [...words, { word: name, parent }];
}

/** Takes a word away; the words under it go to its wider one. */
export function removeWord(words: readonly TastingWord[], at: number): TastingWord[] {
  const gone = words[at];
  if (!gone) return [...words];
  return words
    .filter((_, i) => i !== at)
    .map((word) =>
      word.parent !== null && sameWord(word.parent) === sameWord(gone.word)
        ? { ...word, parent: gone.parent }
        : word,
    );
}

/** Hangs a word, with all that is under it, under another; never under itself. */
export function moveUnder(words: readonly TastingWord[], at: number, parent: string | null): TastingWord[] {
  const moved = words[at];
  if (!moved) return [...words];
  for (let up = parent, steps = 0; up !== null && steps <= words.length; steps++) {
    if (sameWord(up) === sameWord(moved.word)) return [...words];
    const wider: string = up;
    up = words.find(({ word }) => sameWord(word) === sameWord(wider))?.parent ?? null;
  }
  return words.map((word, i) => (i === at ? { ...word, parent } : word));
}
