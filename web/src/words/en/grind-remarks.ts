import { grindSentences, grindTerms, photoSentences } from '@pourline/core';

const under = <P extends string>(
  prefix: P,
  texts: Readonly<Record<string, string>>,
): Readonly<Record<`${P}${string}`, string>> =>
  Object.fromEntries(Object.entries(texts).map(([code, text]) => [prefix + code, text])) as Readonly<
    Record<`${P}${string}`, string>
  >;

/**
 * What core says of grinds, as messages: remarks by code, those of photographs with a prefix of their own, and the words they are
 * filled with. Core owns the English; a catalogue in another language writes its own under the same keys.
 */
export const grindRemarks = {
  ...under('remark.', grindSentences),
  ...under('remark.photo_', photoSentences),
  ...under('term.', grindTerms),
};
