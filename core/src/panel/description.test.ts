import { describe, expect, it } from 'vitest';
import { agreement, candidateWords, expectedPoints, saidAgainstTasted, weighWord } from './description.ts';
import { proposeDescription, proposeWord } from './proposal.ts';
import { STARTING_WORDS, treeFaults, wordTree } from './words-tree.ts';

const TASTERS = ['Ines', 'Joris', 'Kei', 'Lena', 'Milo'];
const POINTS = {
  precise: { found: 2, near: 0, missed: -1 },
  group: { found: 1, near: 0, missed: 0 },
  broad: { found: 0.5, near: 0, missed: 0 },
};
const at = (window: string, lists: readonly string[][]) =>
  lists.map((words, i) => ({ taster: TASTERS[i]!, window, words, age_d: 14 }));
const TASTED = [
  ...at('hot', [['bergamot'], ['bergamot', 'jasmine'], ['citrus'], ['lemon'], ['citrus']]),
  ...at('warm', [['white peach'], ['white peach'], ['white peach'], ['white peach'], ['plum']]),
  ...at('cold', [['raw honey'], ['sweet'], ['caramel'], ['sweet finish'], ['sweet']]),
];

describe('words', () => {
  const tree = wordTree();
  it('the starting words are a tree', () => {
    expect(treeFaults(STARTING_WORDS)).toEqual([]);
    expect(tree.wider('Bergamot ')).toEqual(['citrus', 'fruit']);
  });
  it('a word twice, a parent missing and a loop are named', () => {
    const codes = treeFaults([
      { word: 'a', parent: 'b' },
      { word: 'b', parent: 'a' },
      { word: 'c', parent: 'nowhere' },
      { word: 'C', parent: null },
    ]).map((f) => f.code);
    expect(new Set(codes)).toEqual(new Set(['word_loop', 'parent_missing', 'word_twice']));
    expect(
      wordTree([
        { word: 'a', parent: 'b' },
        { word: 'b', parent: 'a' },
      ]).wider('a').length,
    ).toBeLessThan(3);
  });
  it('said against tasted: found, near, other', () => {
    expect(tree.relation('citrus', 'bergamot')).toBe('found');
    expect(tree.relation('bergamot', 'citrus')).toBe('near');
    expect(tree.relation('bergamot', 'lime')).toBe('near');
    expect(tree.relation('bergamot', 'peach')).toBe('other');
    expect(tree.relation('my own word', 'My own word')).toBe('found');
    expect(tree.relation('fruit', 'sweet')).toBe('other');
  });
  it('support of a word: shares, interval, sessions', () => {
    const of = weighWord('bergamot', 'hot', TASTED, tree, POINTS);
    expect(of).toMatchObject({
      found: 2,
      near: 3,
      tasters: 5,
      breadth: 'precise',
      depth: 2,
      over_sessions: null,
      by_age: [{ age_d: 14, found: 2, tasters: 5 }],
    });
    expect(of.share_low).toBeLessThan(0.1);
    expect(of.share_high).toBeGreaterThan(0.75);
    const twice = [
      ...TASTED.map((t) => ({ ...t, session: 'one' })),
      ...at('hot', [['jasmine'], ['lemon'], ['bergamot'], ['rose'], ['rose']]).map((t) => ({
        ...t,
        session: 'two',
      })),
    ];
    expect(weighWord('bergamot', 'hot', twice, tree, POINTS).over_sessions).toEqual({ low: 0.2, high: 0.4 });
  });
  it('expected points: 4 of 5 found, by hand', () => {
    const { expected, spread, doubt } = expectedPoints([
      { count: 4, points: 2 },
      { count: 1, points: -1 },
    ]);
    const p = 4.5 / 6;
    expect(expected).toBeCloseTo(3 * p - 1, 12);
    expect(spread).toBeCloseTo(3 * Math.sqrt(p * (1 - p)), 12);
    expect(doubt).toBeCloseTo(3 * Math.sqrt((p * (1 - p)) / 7), 12);
  });
  it('candidates hold every word found and everything wider, best first', () => {
    const found = candidateWords('hot', TASTED, tree, POINTS);
    expect(found.map((c) => c.word)).toEqual(
      expect.arrayContaining(['bergamot', 'citrus', 'fruit', 'jasmine', 'white flowers']),
    );
    const points = found.map((c) => c.points.expected);
    expect([...points].sort((a, b) => b - a)).toEqual(points);
    expect(agreement('warm', TASTED, tree)).toBeGreaterThan(agreement('hot', TASTED, tree)!);
    expect(agreement('never', TASTED, tree)).toBeNull();
  });
  it('five tasters, three windows: keep peach, widen bergamot and honey, acidity medium, and say how open it is', () => {
    const out = proposeDescription({
      said: [
        { window: 'hot', word: 'bergamot' },
        { window: 'warm', word: 'white peach' },
        { window: 'cold', word: 'raw honey' },
      ],
      statements: [
        {
          name: 'acidity level',
          said: 'medium-high',
          options: ['low', 'medium', 'medium-high', 'high'],
          answers: TASTERS.map((taster, i) => ({
            taster,
            answer: i < 3 ? 'medium' : 'medium-high',
            offset: i < 3 ? 0 : 0.5,
          })),
          points: { exact: 2, one_step: 1, further: 0 },
        },
      ],
      tasted: TASTED,
      tree,
      points: POINTS,
      judges: 4,
      venue_age_d: 24,
    });
    expect(out.words.map((w) => [w.action, w.instead?.word])).toEqual([
      ['widen', 'citrus'],
      ['keep', 'white peach'],
      ['widen', 'sweet'],
    ]);
    expect(out.statements[0]!.best).toBe('medium');
    expect(out.proposed.expected).toBeGreaterThan(out.now.expected);
    expect(out.now.doubt).toBeGreaterThan(0.3);
    const codes = out.findings.map((f) => f.code);
    expect(codes).toEqual(
      expect.arrayContaining([
        'few_tasters',
        'venue_age',
        'offset_of',
        'description_gain',
        'statement_close',
      ]),
    );
    expect(codes.filter((c) => c === 'offset_of')).toHaveLength(2);
  });
  it('a word nobody found, with nothing wider worth saying, is dropped; a narrower one is proposed when all found it', () => {
    const harsh = {
      ...POINTS,
      group: { found: 1, near: 0, missed: -1 },
      broad: { found: 0.5, near: 0, missed: -1 },
    };
    expect(proposeWord('rum', 'warm', TASTED, tree, harsh)).toMatchObject({ action: 'drop', instead: null });
    expect(proposeWord('stone fruit', 'warm', TASTED, tree, POINTS)).toMatchObject({
      action: 'narrow',
      instead: { word: 'white peach' },
    });
  });
  it('said against tasted names what was found instead', () => {
    const [of] = saidAgainstTasted([{ window: 'cold', word: 'honey' }], TASTED, tree);
    expect(of!.tasters.map((t) => t.outcome)).toEqual(['found', 'near', 'near', 'near', 'near']);
    expect(of!.tasters[2]!.tasted).toEqual(['caramel']);
  });
});
