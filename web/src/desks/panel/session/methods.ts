import { STARTING_WORDS, type TastingMethod, type TastingTest } from '@pourline/core';
import { t } from '../../../words/index.ts';

/** Kinds of sessions in the order in which they are offered. */
export const TESTS: readonly TastingTest[] = [
  'triangle',
  'duo_trio',
  'tetrad',
  'three_afc',
  'paired',
  'a_not_a',
  'preference',
  'ranking',
  'intensity',
  'just_about_right',
  'check_all',
  'descriptors',
  'temporal',
];

/** Tests that compare exactly two cups. */
export const isPairTest = (test: TastingTest): boolean =>
  ['triangle', 'duo_trio', 'tetrad', 'three_afc', 'paired', 'a_not_a'].includes(test);

/** Tests in which every cup is judged by itself, so that cups may come twice. */
export const isSingleCup = (test: TastingTest): boolean =>
  ['intensity', 'just_about_right', 'check_all', 'descriptors', 'temporal'].includes(test);

const listOf = (names: readonly string[]) => names.map((word, i) => ({ id: `w${i + 1}`, word }));

/** A method of a kind as it starts; what one method asks and the next asks too is carried over. */
export function methodOf(
  test: TastingTest,
  samples: readonly { id: string }[],
  tree: readonly { word: string; parent: string | null }[] = STARTING_WORDS,
): TastingMethod {
  const [first, second] = samples.map(({ id }) => id);
  const acidity = t('panel.design.acidity');
  const attributes = [acidity, t('panel.design.sweetness'), t('panel.design.body')].map((name, i) => ({
    id: `a${i + 1}`,
    name,
    low: '',
    high: '',
  }));
  switch (test) {
    case 'triangle':
    case 'duo_trio':
    case 'tetrad':
      return { test };
    case 'three_afc':
      return { test, attribute: acidity, stronger_id: second ?? first ?? 'a' };
    case 'paired':
      return { test, attribute: acidity, stronger_id: null };
    case 'a_not_a':
      return { test, known_id: first ?? 'a', each: 2 };
    case 'ranking':
      return { test, attribute: acidity, ties: false };
    case 'preference':
      return { test, ties: true };
    case 'intensity':
      return { test, attributes, scale: { min: 0, max: 10, step: 0.5 } };
    case 'just_about_right':
      return { test, attributes, liking: true };
    case 'check_all':
      return { test, words: listOf(groupsOf(tree).slice(0, 12)) };
    case 'temporal':
      return { test, words: listOf(groupsOf(tree).slice(0, 8)), mode: 'ticks', lasts_s: 60 };
    case 'descriptors':
      return {
        test,
        words: tree.map(({ word, parent }) => ({ word, parent })),
        own_words: true,
        most: 6,
        statements: [
          {
            id: 's1',
            name: t('panel.design.acidity_level'),
            options: t('panel.design.levels').split(', '),
          },
        ],
      };
  }
}

/** Words in the middle of a tree: wide enough for a list, narrow enough to say something. */
function groupsOf(tree: readonly { word: string; parent: string | null }[]): string[] {
  const parents = new Set(tree.map(({ parent }) => parent?.toLowerCase()));
  const middle = tree.filter(({ word, parent }) => parent !== null && parents.has(word.toLowerCase()));
  return (middle.length > 3 ? middle : tree).map(({ word }) => word);
}

/** Hot, warm and cold as most contests ask for them; common practice, to be changed to what the rules say. */
export const usualWindows = () => [
  { id: 'hot', name: t('panel.design.hot'), from_C: 60, to_C: 52 },
  { id: 'warm', name: t('panel.design.warm'), from_C: 46, to_C: 38 },
  { id: 'cold', name: t('panel.design.cold'), from_C: 32, to_C: 25 },
];

/** An id that a list does not have yet. */
export function freeId(prefix: string, taken: readonly { id: string }[]): string {
  const used = new Set(taken.map(({ id }) => id));
  for (let n = taken.length + 1; ; n++) if (!used.has(`${prefix}${n}`)) return `${prefix}${n}`;
}
