import { stepSentences, waterSentences, waterTerms } from '@pourline/core';

const under = <P extends string>(
  prefix: P,
  texts: Readonly<Record<string, string>>,
): Readonly<Record<`${P}.${string}`, string>> =>
  Object.fromEntries(Object.entries(texts).map(([code, text]) => [`${prefix}.${code}`, text])) as Readonly<
    Record<`${P}.${string}`, string>
  >;

/**
 * What core says of waters, as messages: remarks by code, the words they are filled with (`term.hardness`), and the steps at
 * the table. Core owns the English; a catalogue in another language writes its own under the same keys.
 */
export const waterRemarks = {
  ...under('remark', waterSentences),
  ...under('term', waterTerms),
  ...under('step', stepSentences),
};
