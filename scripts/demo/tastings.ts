import {
  answersWholeSet,
  chanceFrom,
  checkKind,
  type Description,
  type DocumentOf,
  type Kind,
  type PlannedSet,
  planSession,
  type SessionDesign,
  STARTING_WORDS,
  sameCupsInWindows,
  type Tasting,
  type TastingAnswer,
  type Words,
} from '@pourline/core';
import { answerId, CAMPAIGN, CONTEST, DESCRIPTION, PLAN, TASTING, WORDS } from './ids.ts';

const TASTERS = ['Ines', 'Joris', 'Kei', 'Lena', 'Milo'] as const;
type Taster = (typeof TASTERS)[number];

/** A document with every default written out. */
function whole<K extends Kind>(kind: K, body: unknown): DocumentOf<K> {
  const checked = checkKind(kind, body);
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value;
}

/** The panel's own words: plain ones, with a wide word that can be said of a finish. */
export const words: Words = whole('words', {
  kind: 'words',
  version: 1,
  id: WORDS,
  campaign_id: CAMPAIGN,
  name: 'Our words',
  notes: 'Invented. Change them to what your panel says.',
  words: STARTING_WORDS.filter(({ word }) => word !== 'sweet finish').map(({ word, parent }) => ({
    word: word === 'sweet' ? 'sweet finish' : word,
    parent: parent === 'sweet' ? 'sweet finish' : parent,
  })),
});

const WINDOWS = [
  { id: 'hot', name: 'Hot', from_C: 60, to_C: 52 },
  { id: 'warm', name: 'Warm', from_C: 46, to_C: 38 },
  { id: 'cold', name: 'Cold', from_C: 32, to_C: 25 },
];
const STATEMENTS = [
  { id: 's1', name: 'acidity level', options: ['low', 'medium', 'medium-high', 'high'] },
  { id: 's2', name: 'acidity type', options: ['citric', 'malic', 'tartaric', 'unclear'] },
  { id: 's3', name: 'body', options: ['light', 'silky', 'round', 'heavy'] },
];
const WORDS_ASKED = { test: 'descriptors', words: words.words, statements: STATEMENTS } as const;

/** What one taster is asked about. */
interface About {
  taster: Taster;
  set: PlannedSet;
  /** Code of the cup and what is in it, where each cup is answered by itself. */
  code: string | null;
  sample_id: string | null;
  window_id: string | null;
}

const minute = (start: string, after: number): string =>
  new Date(Date.parse(start) + after * 60_000).toISOString();

/** A tasting as it would be kept after it was run: planned like any other, answered by `answer`. */
function ran(
  n: number,
  id: string,
  body: Record<string, unknown>,
  start: string,
  answer: (about: About) => TastingAnswer,
): Tasting {
  const bare = whole('tasting', {
    kind: 'tasting',
    version: 1,
    id,
    campaign_id: CAMPAIGN,
    seats: TASTERS.length,
    spare_seats: 0,
    ...body,
  });
  const { run: _, ...design } = bare;
  const planned = planSession(design, { codes: chanceFrom(100 + n), orders: chanceFrom(200 + n) });
  if (!planned.ok) throw new Error(planned.problems.map((p) => p.sentence).join('\n'));
  const { sets } = planned.value;
  const asked = sets.flatMap((set) => asksOf(design, set));
  return whole('tasting', {
    ...bare,
    run: {
      method: design.method,
      samples: design.samples,
      windows: design.windows,
      opened_at: start,
      closed_at: minute(start, 55),
      tasters: TASTERS.map((name, i) => ({ seat: i + 1, name, joined_at: minute(start, 1 + i / 4) })),
      sets,
      answers: asked.map(({ set, code, window_id }, i) => {
        const cup = set.cups.find((one) => one.code === code);
        const at = minute(start, 8 + (i * 40) / asked.length);
        return {
          answer_id: answerId(n, i + 1),
          seat: set.seat,
          set: set.set,
          code,
          window_id,
          at,
          device_at: at,
          temperature_C: null,
          counts: true,
          answer: answer({
            taster: TASTERS[set.seat - 1]!,
            set,
            code,
            sample_id: cup?.sample_id ?? null,
            window_id,
          }),
        };
      }),
      poured: [{ flight: 1, at: minute(start, 5) }],
      measured: [],
      sheet_seen: [],
    },
  });
}

function asksOf(design: SessionDesign, set: PlannedSet) {
  const { test } = design.method;
  const several = sameCupsInWindows(test) && design.windows.length > 0;
  const codes = answersWholeSet(test) ? [null] : set.cups.filter((c) => !c.known).map(({ code }) => code);
  const windows = several ? design.windows.map((w) => w.id) : [set.window_id];
  return windows.flatMap((window_id) => codes.map((code) => ({ set, code, window_id })));
}

const said = (found: readonly string[], options: readonly [string, string, string]): TastingAnswer => ({
  test: 'descriptors',
  words: [...found],
  statements: STATEMENTS.map(({ id }, i) => ({ id, option: options[i]! })),
});

/** Two of the five call acidity half a step higher than the others, over six cups: one step in four of them. */
const calibration = ran(
  1,
  TASTING.calibration,
  {
    name: 'Getting to know the panel',
    notes: 'Invented.',
    method: WORDS_ASKED,
    samples: [
      { id: 'c1', name: 'Four pours', plan_id: PLAN.fourPours },
      { id: 'c2', name: 'Three pours', plan_id: PLAN.threePours },
    ],
    windows: WINDOWS,
  },
  '2026-11-12T09:00:00.000Z',
  ({ taster, sample_id, window_id }) => {
    const high = taster === 'Lena' || taster === 'Milo';
    const level = high && !(sample_id === 'c2' && window_id !== 'hot') ? 'medium-high' : 'medium';
    const found = window_id === 'cold' ? 'caramel' : window_id === 'warm' ? 'peach' : 'citrus';
    return said([found], [level, 'malic', 'silky']);
  },
);

/** Found: bergamot 2 of 5 and something like citrus 5 of 5; white peach 4 of 5; honey 1 of 5, something sweet 5 of 5. */
const FOUND: Readonly<Record<string, Readonly<Record<Taster, readonly string[]>>>> = {
  hot: {
    Ines: ['bergamot'],
    Joris: ['bergamot', 'jasmine'],
    Kei: ['citrus'],
    Lena: ['lemon'],
    Milo: ['citrus'],
  },
  warm: {
    Ines: ['white peach'],
    Joris: ['white peach'],
    Kei: ['white peach'],
    Lena: ['white peach'],
    Milo: ['plum'],
  },
  cold: {
    Ines: ['raw honey'],
    Joris: ['sweet finish'],
    Kei: ['caramel'],
    Lena: ['sweet finish'],
    Milo: ['brown sugar'],
  },
};

const wordsTasting = ran(
  2,
  TASTING.words,
  {
    name: 'Words for the open round',
    notes: 'Invented. Five tasters, one cup, three temperatures.',
    method: WORDS_ASKED,
    samples: [{ id: 'c1', name: 'Four pours', plan_id: PLAN.fourPours }],
    windows: WINDOWS,
    title: 'What do you find?',
  },
  '2026-11-16T09:00:00.000Z',
  ({ taster, window_id }) =>
    said(FOUND[window_id ?? '']![taster], [
      taster === 'Lena' || taster === 'Milo' ? 'medium-high' : 'medium',
      taster === 'Kei' ? 'citric' : 'malic',
      taster === 'Milo' ? 'round' : 'silky',
    ]),
);

/** Sets in which the odd cup was found: 9 of 15. */
const RIGHT: Readonly<Record<Taster, readonly number[]>> = {
  Ines: [1, 2, 3],
  Joris: [2],
  Kei: [1, 3],
  Lena: [2, 3],
  Milo: [1],
};

const triangle = ran(
  3,
  TASTING.triangle,
  {
    name: 'Is the step-down worth it?',
    notes: 'Invented. The same coffee, poured in four steps and in three.',
    method: { test: 'triangle' },
    samples: [
      { id: 'c1', name: 'Four pours', plan_id: PLAN.fourPours },
      { id: 'c2', name: 'Three pours', plan_id: PLAN.threePours },
    ],
    repeats: 3,
    title: 'Tuesday, three cups',
  },
  '2026-11-17T09:00:00.000Z',
  ({ taster, set }) => {
    const wrong = set.cups.find(({ code }) => !set.right.includes(code))!;
    return { test: 'triangle', code: RIGHT[taster].includes(set.set) ? set.right[0]! : wrong.code };
  },
);

/** What a cup has of acidity, sweetness and body, and how a taster departs from it. */
const LEVELS: Readonly<Record<string, readonly [number, number, number]>> = {
  c1: [6.5, 6, 4.5],
  c2: [5, 6.5, 5.5],
  c3: [4, 5, 6.5],
};
const HABIT: Readonly<Record<Taster, { offset: number; slope: number; slip: number }>> = {
  Ines: { offset: 0, slope: 1, slip: 0.5 },
  Joris: { offset: -0.5, slope: 1, slip: 0.5 },
  Kei: { offset: 0, slope: 1, slip: 1 },
  Lena: { offset: 0.5, slope: 1, slip: 0.5 },
  Milo: { offset: 0.5, slope: 0.5, slip: 0.5 },
};

const profile = ran(
  4,
  TASTING.profile,
  {
    name: 'Three brews side by side',
    notes: 'Invented. One cup comes twice under different codes.',
    method: {
      test: 'intensity',
      attributes: [
        { id: 'a1', name: 'acidity', low: 'flat', high: 'sharp' },
        { id: 'a2', name: 'sweetness', low: 'none', high: 'a lot' },
        { id: 'a3', name: 'body', low: 'like water', high: 'like cream' },
      ],
      scale: { min: 0, max: 10, step: 0.5 },
    },
    samples: [
      { id: 'c1', name: 'Four pours', plan_id: PLAN.fourPours },
      { id: 'c2', name: 'Three pours', plan_id: PLAN.threePours },
      { id: 'c3', name: 'Immersion', plan_id: PLAN.immersion },
    ],
    hidden_repeats: ['c2'],
  },
  '2026-11-18T09:00:00.000Z',
  ({ taster, set, code, sample_id }) => {
    const { offset, slope, slip } = HABIT[taster];
    const place = set.cups.findIndex((cup) => cup.code === code);
    const scores = LEVELS[sample_id!]!.map((level, i) => {
      // A slip this way or that, the same whenever the demo is made.
      const way = ((set.seat * 7 + place * 5 + i * 3) % 3) - 1;
      const score = 5.5 + slope * (level - 5.5) + offset + way * slip;
      return { id: `a${i + 1}`, score: Math.min(10, Math.max(0, Math.round(score * 2) / 2)) };
    });
    return { test: 'intensity', scores };
  },
);

/** Set out, not run yet. */
const next: Tasting = whole('tasting', {
  kind: 'tasting',
  version: 1,
  id: TASTING.next,
  campaign_id: CAMPAIGN,
  name: 'Words again, at the age on stage',
  notes: 'Invented. The same cup on the day of its venue age.',
  method: WORDS_ASKED,
  samples: [{ id: 'c1', name: 'Four pours', plan_id: PLAN.fourPours }],
  windows: WINDOWS,
  seats: 5,
  title: 'What do you find?',
  instructions: 'Small sips. Wide words are fine. Say nothing aloud.',
});

export const tastings: readonly Tasting[] = [calibration, wordsTasting, triangle, profile, next];

/** What the brewer would say now. */
export const description: Description = whole('description', {
  kind: 'description',
  version: 1,
  id: DESCRIPTION,
  campaign_id: CAMPAIGN,
  name: 'Open round',
  notes: 'Invented.',
  sources: [{ tasting_id: TASTING.words, sample_id: 'c1' }],
  words_id: WORDS,
  said: [
    { id: 'w1', window: 'Hot', word: 'bergamot' },
    { id: 'w2', window: 'Warm', word: 'white peach' },
    { id: 'w3', window: 'Cold', word: 'raw honey' },
  ],
  statements: [
    { id: 's1', name: 'acidity level', said: 'medium-high' },
    { id: 's2', name: 'acidity type', said: 'malic' },
    { id: 's3', name: 'body', said: 'silky' },
  ],
  contest_id: CONTEST,
  category_id: 'description',
  judges: 3,
  served_age_d: 24,
  offsets: [
    { taster: 'Lena', name: 'acidity level', steps: 0.5 },
    { taster: 'Milo', name: 'acidity level', steps: 0.5 },
  ],
});
