import { z } from 'zod';
import { common, refuse } from '../fields.ts';

/** A word for what is tasted. */
export const tastingWord = z.string().trim().min(1).max(60);

/** Most words of one tree. */
export const MAX_WORDS = 600;

/** A panel's own tree of words, widest first; edited freely. */
export const words = z
  .strictObject({
    kind: z.literal('words'),
    version: z.literal(1),
    ...common,
    words: z
      .array(
        z.strictObject({
          word: tastingWord,
          /** The wider word it belongs to; null at the top. */
          parent: tastingWord.nullable().default(null),
        }),
      )
      .min(1)
      .max(MAX_WORDS),
  })
  .check((ctx) => refuseNoTree(ctx, 'words', ctx.value.words));
export type Words = z.infer<typeof words>;

const same = (word: string): string => word.trim().toLowerCase();

/** Reports words that stand twice, whose wider word is missing, or that are wider than themselves. */
export function refuseNoTree(
  ctx: Pick<z.core.ParsePayload, 'issues'>,
  path: string,
  list: readonly { word: string; parent: string | null }[],
): void {
  const parents = new Map<string, string | null>();
  list.forEach(({ word, parent }, i) => {
    if (parents.has(same(word))) refuse(ctx, [path, i, 'word'], 'duplicate_id', word);
    else parents.set(same(word), parent === null ? null : same(parent));
  });
  list.forEach(({ word, parent }, i) => {
    if (parent === null) return;
    if (!parents.has(same(parent))) refuse(ctx, [path, i, 'parent'], 'no_such_word', parent);
    else if (inLoop(parents, same(word))) refuse(ctx, [path, i, 'parent'], 'word_loop', parent);
  });
}

/** Whether going wider from a word ever comes back to it. */
function inLoop(parents: ReadonlyMap<string, string | null>, word: string): boolean {
  let at = parents.get(word) ?? null;
  for (let steps = 0; at !== null && steps <= parents.size; steps++) {
    if (at === word) return true;
    at = parents.get(at) ?? null;
  }
  return false;
}
