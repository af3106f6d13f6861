import type { Tasting } from '../../../documents/kinds/tasting.ts';
import type { TastingAnswer } from '../../../documents/kinds/tasting-answer.ts';
import { checkKind } from '../../../documents/registry.ts';
import { CAMPAIGN_ID, TASTING_ID } from '../../../documents/testing/samples.ts';
import type { AnswerRequest } from '../api.ts';
import { answersWholeSet, sameCupsInWindows } from '../plan-session.ts';
import type { PlannedSet, SessionDesign } from '../plan-types.ts';

/** A design for tests: two samples, a hot and a warm window, four seats and one spare. Invented. */
export function makeDesign(change: Record<string, unknown>): SessionDesign {
  const { run: _, ...design } = makeTasting(change);
  return design;
}

/** {@link makeDesign} as a document that was not run yet. */
export function makeTasting(change: Record<string, unknown>): Tasting {
  const checked = checkKind('tasting', {
    kind: 'tasting',
    version: 1,
    id: TASTING_ID,
    campaign_id: CAMPAIGN_ID,
    name: 'Stepped against plain, first look',
    samples: [
      { id: 'a', name: 'Stepped grind' },
      { id: 'b', name: 'Plain grind' },
    ],
    windows: [
      { id: 'hot', name: 'Hot', from_C: 60, to_C: 52 },
      { id: 'warm', name: 'Warm', from_C: 45, to_C: 38 },
    ],
    seats: 4,
    spare_seats: 1,
    repeats: 2,
    title: 'Second table',
    ...change,
  });
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join(' '));
  return checked.value;
}

const attributes = [
  { id: 'sweet', name: 'sweetness' },
  { id: 'sour', name: 'acidity' },
];
const words = [
  { id: 'w1', word: 'citrus' },
  { id: 'w2', word: 'honey' },
];

/** One design of every kind of session, by its test. */
export const everyDesign = (): [test: string, SessionDesign][] =>
  [
    { test: 'triangle' },
    { test: 'duo_trio' },
    { test: 'tetrad' },
    { test: 'three_afc', attribute: 'sweetness', stronger_id: 'a' },
    { test: 'paired', attribute: 'sweetness', stronger_id: 'b' },
    { test: 'paired', attribute: 'body' },
    { test: 'a_not_a', known_id: 'a', each: 2 },
    { test: 'ranking', attribute: 'sweetness', ties: true },
    { test: 'preference', ties: true },
    { test: 'intensity', attributes },
    { test: 'check_all', words },
    { test: 'just_about_right', attributes },
    {
      test: 'descriptors',
      words: [{ word: 'fruit' }, { word: 'citrus', parent: 'fruit' }, { word: 'sweet' }],
      statements: [{ id: 'body', name: 'body', options: ['light', 'full'] }],
    },
    { test: 'temporal', words, lasts_s: 45 },
  ].map((method) => [
    'stronger_id' in method && method.test === 'paired' ? 'paired, one-sided' : method.test,
    makeDesign({ method }),
  ]);

/** Answers to everything one set asks, well formed; what they say depends on codes alone, never on what is in the cups. */
export function rightLooking(design: SessionDesign, set: PlannedSet): AnswerRequest[] {
  const codes = set.cups.filter((c) => !c.known).map((c) => c.code);
  const { test } = design.method;
  const windows = sameCupsInWindows(test)
    ? design.windows.length > 0
      ? design.windows.map((w) => w.id)
      : [null]
    : [set.window_id];
  const cups = answersWholeSet(test) ? [null] : codes;
  return windows.flatMap((window_id, w) =>
    cups.map((code, c) => ({
      answer_id: answerId(set, w, c),
      set: set.set,
      code,
      window_id,
      device_at: '2027-03-05T09:11:58.000Z',
      offset_ms: null,
      temperature_C: null,
      answer: answerTo(design, codes),
    })),
  );
}

const answerId = ({ seat, set }: PlannedSet, window: number, cup: number): string =>
  `0190a5d2-7c3e-7b10-8${seat.toString().padStart(3, '0')}-${(set * 10_000 + window * 100 + cup)
    .toString(16)
    .padStart(12, '0')}`;

function answerTo({ method }: SessionDesign, codes: readonly string[]): TastingAnswer {
  const first = codes[0]!;
  switch (method.test) {
    case 'triangle':
    case 'duo_trio':
    case 'three_afc':
    case 'paired':
    case 'preference':
      return { test: method.test, code: first };
    case 'tetrad':
      return { test: 'tetrad', group: codes.slice(0, 2) };
    case 'a_not_a':
      return { test: 'a_not_a', same: true };
    case 'ranking':
      return { test: 'ranking', order: codes.map((code) => [code]) };
    case 'intensity':
      return { test: 'intensity', scores: method.attributes.map(({ id }, i) => ({ id, score: 5.5 + i })) };
    case 'check_all':
      return { test: 'check_all', ticked: [method.words[0]!.id] };
    case 'just_about_right':
      return {
        test: 'just_about_right',
        levels: method.attributes.map(({ id }, i) => ({ id, level: i - 1 })),
        liking: 7,
      };
    case 'descriptors':
      return {
        test: 'descriptors',
        words: [method.words[1]!.word, 'bakery'],
        statements: method.statements.map(({ id, options }) => ({ id, option: options[0]! })),
      };
    case 'temporal':
      return {
        test: 'temporal',
        clicks: method.words.map(({ id }, i) => ({ id, at_s: 2.5 * (i + 1), on: true })),
      };
  }
}
