import { useState } from 'react';

/** Words out of a line: parted by commas, each trimmed, at most 60 letters. */
export const wordsOf = (text: string): string[] =>
  text
    .split(/[,;，；、]/)
    .map((word) => word.trim().slice(0, 60))
    .filter((word) => word !== '')
    .slice(0, 40);

/** A list of words edited as one line; the line as typed stands while it means the list. */
export function useTypedWords(
  words: readonly string[],
  change: (words: string[]) => void,
): [string, (text: string) => void] {
  const [typed, setTyped] = useState<string | null>(null);
  const same = typed !== null && wordsOf(typed).join('\n') === words.join('\n');
  return [
    same ? typed : words.join(', '),
    (text) => {
      setTyped(text);
      change(wordsOf(text));
    },
  ];
}
