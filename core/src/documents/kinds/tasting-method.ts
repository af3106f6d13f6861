import { z } from 'zod';
import { localId, number, refuse, refuseDuplicateIds } from '../fields.ts';
import { MAX_WORDS, refuseNoTree, tastingWord } from './words.ts';

/** Text that tasters read. */
export const shown = (longest: number) => z.string().trim().max(longest);
/** Name of what is asked about: "sweetness". */
const asked = z.string().trim().min(1).max(80);

const attributes = z
  .array(
    z.strictObject({
      id: localId,
      name: asked,
      /** What the ends of the scale mean. */
      low: shown(60).default(''),
      high: shown(60).default(''),
    }),
  )
  .min(1)
  .max(20);

const listed = z
  .array(z.strictObject({ id: localId, word: tastingWord }))
  .min(2)
  .max(60);

/** Three cups, two alike; a reference and two cups; four cups, two of each. */
const unspecified = <T extends string>(test: T) => z.strictObject({ test: z.literal(test) });

const triangle = unspecified('triangle');
const duoTrio = unspecified('duo_trio');
const tetrad = unspecified('tetrad');

/** Three cups, two alike: which has most of it? */
const threeAfc = z.strictObject({
  test: z.literal('three_afc'),
  attribute: asked,
  /** The sample that is expected to have more; it is the single one of the three. */
  stronger_id: localId,
});

/** Two cups: which has more of it? */
const paired = z.strictObject({
  test: z.literal('paired'),
  attribute: asked,
  /** The sample that is expected to have more, when that was known beforehand; null for a two-sided test. */
  stronger_id: localId.nullable().default(null),
});

/** One cup at a time: is it the one you learned, or not? */
const aNotA = z.strictObject({
  test: z.literal('a_not_a'),
  /** The sample that is shown openly first. */
  known_id: localId,
  /** How often each taster gets each of the two samples. */
  each: z.int().min(1).max(20).default(2),
});

/** All cups in order of one thing. */
const ranking = z.strictObject({
  test: z.literal('ranking'),
  attribute: asked,
  /** Cups may share a place. */
  ties: z.boolean().default(false),
});

/** Pairs of cups: which do you prefer? Every pair of samples. */
const preference = z.strictObject({
  test: z.literal('preference'),
  /** "No preference" may be answered. */
  ties: z.boolean().default(true),
});

/** How much of each thing, on a scale. */
const intensity = z
  .strictObject({
    test: z.literal('intensity'),
    attributes,
    scale: z
      .strictObject({ min: number(-1000, 1000), max: number(-1000, 1000), step: number(0.001, 1000) })
      .default({ min: 0, max: 10, step: 0.5 }),
  })
  .check((ctx) => {
    refuseDuplicateIds(ctx, 'attributes', ctx.value.attributes);
    const { min, max } = ctx.value.scale;
    if (max <= min) refuse(ctx, ['scale', 'max'], 'max_below_min', max, { limit: min });
  });

/** A list of words: tick all that apply. */
const checkAll = z
  .strictObject({ test: z.literal('check_all'), words: listed })
  .check((ctx) => refuseDuplicateIds(ctx, 'words', ctx.value.words));

/** Much too little … just about right … much too much, and how much the cup is liked. */
const justAboutRight = z
  .strictObject({
    test: z.literal('just_about_right'),
    attributes,
    /** Also ask for liking, 1 to 9; without it nothing can be said of what a miss costs. */
    liking: z.boolean().default(true),
  })
  .check((ctx) => refuseDuplicateIds(ctx, 'attributes', ctx.value.attributes));

/** Words from a tree, and answers to a few questions: acidity, body, balance. */
const descriptors = z
  .strictObject({
    test: z.literal('descriptors'),
    /** The tree as it is offered; copied here, so that a later change of the panel's tree changes nothing of this. */
    words: z
      .array(z.strictObject({ word: tastingWord, parent: tastingWord.nullable().default(null) }))
      .min(2)
      .max(MAX_WORDS),
    /** Tasters may write words of their own. */
    own_words: z.boolean().default(true),
    /** Most words for one cup at one temperature. */
    most: z.int().min(1).max(20).default(6),
    statements: z
      .array(
        z.strictObject({
          id: localId,
          name: asked,
          options: z.array(z.string().trim().min(1).max(60)).min(2).max(12),
        }),
      )
      .max(12)
      .default([]),
  })
  .check((ctx) => {
    refuseNoTree(ctx, 'words', ctx.value.words);
    refuseDuplicateIds(ctx, 'statements', ctx.value.statements);
  });

/** Words over time after a sip. */
const temporal = z
  .strictObject({
    test: z.literal('temporal'),
    words: listed,
    /** `ticks`: all that apply, ticked and unticked; `dominant`: the one that stands out, until the next is chosen. */
    mode: z.enum(['ticks', 'dominant']).default('ticks'),
    lasts_s: number(5, 300).default(60),
  })
  .check((ctx) => refuseDuplicateIds(ctx, 'words', ctx.value.words));

/** What is asked in a session. */
export const method = z.discriminatedUnion('test', [
  triangle,
  duoTrio,
  tetrad,
  threeAfc,
  paired,
  aNotA,
  ranking,
  preference,
  intensity,
  checkAll,
  justAboutRight,
  descriptors,
  temporal,
]);
export type TastingMethod = z.infer<typeof method>;
export type TastingTest = TastingMethod['test'];

/** Tests in which exactly two samples are compared. */
export const TWO_SAMPLE_TESTS: readonly TastingTest[] = [
  'triangle',
  'duo_trio',
  'tetrad',
  'three_afc',
  'paired',
  'a_not_a',
];
