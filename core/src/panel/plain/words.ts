import { z } from 'zod';
import { checkAll } from '../check-all.ts';
import { correspondence, describedDifferently } from '../correspondence.ts';
import { agreement, candidateWords, saidAgainstTasted, type TastedWords } from '../description.ts';
import { finding, writtenP } from '../findings.ts';
import { inputProblem, twice, unknownNames, unless } from '../input-problems.ts';
import { justAboutRight } from '../just-about-right.ts';
import { proposeDescription, type Statement } from '../proposal.ts';
import { sayJustAboutRight, sayWords } from '../say-results.ts';
import { STARTING_WORDS, sameWord, treeFaults, type WordFault, wordTree } from '../words-tree.ts';
import { alpha, name, type PlainKind, plainKind, score, seed, some } from './kind.ts';

const points = z.strictObject({ found: score, near: score, missed: score });

const FAULT_WORDS: Readonly<Record<WordFault['code'], string>> = {
  word_twice: 'stands twice',
  parent_missing: 'belongs to a wider word that is not there',
  word_loop: 'belongs to itself through its wider words',
};

const statement = z.strictObject({
  name,
  said: name,
  options: z.array(name).min(2).max(20),
  answers: z
    .array(z.strictObject({ taster: name, answer: name, offset: z.number().min(-10).max(10).optional() }))
    .min(1)
    .max(500),
  points: z.strictObject({ exact: score, one_step: score, further: score }),
});

const descriptionInput = z.strictObject({
  said: z
    .array(z.strictObject({ window: name, word: name }))
    .min(1)
    .max(40),
  tasted: z
    .array(
      z.strictObject({
        taster: name,
        window: name,
        words: z.array(name).max(60),
        session: name.optional(),
        age_d: z.number().min(0).max(1000).optional(),
      }),
    )
    .min(1)
    .max(5000),
  statements: z.array(statement).max(20).default([]),
  points: z.strictObject({ precise: points, group: points, broad: points }),
  judges: some.default(3),
  venue_age_d: z.number().min(0).max(1000).nullable().default(null),
  tree: z
    .array(z.strictObject({ word: name, parent: name.nullable() }))
    .max(2000)
    .default([...STARTING_WORDS]),
});

function describe(of: z.output<typeof descriptionInput>) {
  const faults = treeFaults(of.tree).map((f) =>
    inputProblem(['tree', of.tree.findIndex((w) => w.word === f.word)], 'tree_fault', {
      value: f.word,
      fault: FAULT_WORDS[f.code],
    }),
  );
  const lost = of.statements.flatMap((s, i) => [
    ...unknownNames(
      s.answers.map((a, k) => [['statements', i, 'answers', k, 'answer'], a.answer] as const),
      s.options,
    ),
    ...unknownNames([[['statements', i, 'said'], s.said]], s.options),
  ]);
  return unless([...faults, ...lost], () => {
    const tree = wordTree(of.tree);
    const tasted: TastedWords[] = of.tasted.map(({ session, age_d, ...rest }) => ({
      ...rest,
      ...(session === undefined ? {} : { session }),
      ...(age_d === undefined ? {} : { age_d }),
    }));
    const statements: Statement[] = of.statements.map((s) => ({
      ...s,
      answers: s.answers.map(({ offset, ...a }) => ({ ...a, ...(offset === undefined ? {} : { offset }) })),
    }));
    const proposal = proposeDescription({ ...of, tasted, statements, tree });
    const { findings, ...rest } = proposal;
    const windows = [...new Set(tasted.map((t) => t.window))];
    return {
      figures: {
        ...rest,
        windows: windows.map((window) => ({
          window,
          agreement: agreement(window, tasted, tree),
          candidates: candidateWords(window, tasted, tree, of.points),
        })),
        said_against_tasted: saidAgainstTasted(of.said, tasted, tree),
      },
      findings,
    };
  });
}

const wordsInput = z.strictObject({
  cups: z.array(name).min(2).max(40),
  ballots: z
    .array(z.strictObject({ taster: name, cup: name, words: z.array(name).max(100) }))
    .min(2)
    .max(5000),
  alpha,
  seed,
});

function checkedWords(of: z.output<typeof wordsInput>) {
  const tasters = [...new Set(of.ballots.map((b) => b.taster))];
  const words = [...new Map(of.ballots.flatMap((b) => b.words).map((w) => [sameWord(w), w])).values()];
  const ballotOf = (taster: string, cup: string) =>
    of.ballots.find((b) => b.taster === taster && b.cup === cup);
  const missing = tasters.flatMap((taster) =>
    of.cups.flatMap((cup) =>
      ballotOf(taster, cup) ? [] : [inputProblem(['ballots'], 'ballot_missing', { taster, value: cup })],
    ),
  );
  const wrong = [
    ...twice(['cups'], of.cups),
    ...unknownNames(
      of.ballots.map((b, i) => [['ballots', i, 'cup'], b.cup] as const),
      of.cups,
    ),
    ...missing,
    ...(words.length === 0 ? [inputProblem(['ballots'], 'no_answers')] : []),
  ];
  return unless(wrong, () => {
    const ticked = (taster: string, cup: string, word: string) =>
      ballotOf(taster, cup)!.words.some((w) => sameWord(w) === sameWord(word)) ? 1 : 0;
    const tests = checkAll(
      words.map((word) => ({ word, ticks: tasters.map((t) => of.cups.map((c) => ticked(t, c, word))) })),
      of.seed,
    );
    const whole = describedDifferently(
      tasters.map((t) => of.cups.map((c) => words.map((w) => ticked(t, c, w)))),
      of.seed,
    );
    const table = of.cups.map((c) => words.map((w) => tasters.reduce((n, t) => n + ticked(t, c, w), 0)));
    const differ = whole.p <= of.alpha;
    return {
      figures: {
        cups: of.cups,
        tests,
        described_differently: whole,
        map: { words, ...correspondence(table) },
      },
      findings: [
        finding(differ ? 'clear' : 'not_shown', differ ? 'described_clear' : 'described_not_shown', {
          p: writtenP(whole.p),
        }),
        ...sayWords(tests, of.alpha, tasters.length),
      ],
    };
  });
}

/** Words and levels. */
export const PLAIN_WORDS = {
  words: plainKind(
    'check-all-that-apply: which words tell the cups apart, and a map of cups and words',
    wordsInput,
    {
      cups: ['A', 'B'],
      ballots: ['Ines', 'Joris', 'Kei', 'Lena', 'Milo', 'Nora'].flatMap((taster, i) => [
        { taster, cup: 'A', words: ['citrus', ...(i % 2 ? ['honey'] : [])] },
        { taster, cup: 'B', words: ['honey', ...(i === 0 ? ['citrus'] : [])] },
      ]),
    },
    checkedWords,
  ),
  right: plainKind(
    'just about right: what too little or too much of something costs in liking',
    z.strictObject({
      attribute: name,
      answers: z
        .array(z.strictObject({ level: z.enum(['too_little', 'right', 'too_much']), liking: score }))
        .min(1)
        .max(5000),
      alpha,
      seed,
    }),
    {
      attribute: 'acidity',
      answers: [
        { level: 'right', liking: 8 },
        { level: 'right', liking: 7.5 },
        { level: 'right', liking: 7 },
        { level: 'too_much', liking: 6 },
        { level: 'too_much', liking: 5 },
      ],
    },
    (of) => {
      const figures = justAboutRight(of.answers, of.seed);
      return {
        ok: true,
        value: { figures: { ...figures }, findings: sayJustAboutRight(figures, of.attribute, of.alpha) },
      };
    },
  ),
  description: plainKind(
    'what to say: words and statements weighed in points, kept, widened, narrowed or dropped',
    descriptionInput,
    {
      said: [
        { window: 'hot', word: 'bergamot' },
        { window: 'warm', word: 'white peach' },
        { window: 'cold', word: 'raw honey' },
      ],
      tasted: (
        [
          ['hot', [['bergamot'], ['bergamot', 'jasmine'], ['citrus'], ['lemon'], ['citrus']]],
          ['warm', [['white peach'], ['white peach'], ['white peach'], ['white peach'], ['plum']]],
          ['cold', [['raw honey'], ['sweet'], ['caramel'], ['sweet finish'], ['sweet']]],
        ] as const
      ).flatMap(([window, lists]) =>
        lists.map((words, i) => ({
          taster: ['Ines', 'Joris', 'Kei', 'Lena', 'Milo'][i]!,
          window,
          words,
          age_d: 14,
        })),
      ),
      statements: [
        {
          name: 'acidity level',
          said: 'medium-high',
          options: ['low', 'medium', 'medium-high', 'high'],
          answers: ['Ines', 'Joris', 'Kei', 'Lena', 'Milo'].map((taster, i) =>
            i < 3 ? { taster, answer: 'medium' } : { taster, answer: 'medium-high', offset: 0.5 },
          ),
          points: { exact: 2, one_step: 1, further: 0 },
        },
      ],
      points: {
        precise: { found: 2, near: 0, missed: -1 },
        group: { found: 1, near: 0, missed: 0 },
        broad: { found: 0.5, near: 0, missed: 0 },
      },
      judges: 4,
      venue_age_d: 24,
    },
    describe,
  ),
} satisfies Record<string, PlainKind>;
