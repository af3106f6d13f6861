import { describe, expect, it } from 'vitest';
import { caffeine, dominance } from '../../../reference/panel-examples/examples.json' with { type: 'json' };
import { admission, brewCaffeine, caffeineLedger, remainingCaffeine, sipCaffeine } from './caffeine.ts';
import { calibrate } from './calibration.ts';
import { estimateDifference } from './d-prime.ts';
import { agreement, candidateWords, expectedPoints, saidAgainstTasted, weighWord } from './description.ts';
import { fewestAnswers } from './difference-test.ts';
import { findingSentences } from './finding-sentences.ts';
import { chanceWords, finding } from './findings.ts';
import { justAboutRight } from './just-about-right.ts';
import { panelMixed } from './panel-mixed.ts';
import { moreAnswers, testPower } from './power.ts';
import { proposeDescription, proposeWord } from './proposal.ts';
import { PROTOCOL_NAMES } from './protocols.ts';
import { fewestTasters, fullAgreementP, sayRankingPlan, sayTemporal } from './say-results.ts';
import { sayDifference, sayMore, sayPlan } from './say-tests.ts';
import { blockedSamples, sipCaution } from './taster-care.ts';
import { dominanceLevels, spansOfClicks, temporalCurves, temporalDifference } from './temporal.ts';
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

describe('nothing is claimed from answers that cannot show it', () => {
  it('every protocol, every number too small: only "cannot", and how many it takes', () => {
    for (const protocol of PROTOCOL_NAMES)
      for (const sides of ['one', 'two'] as const) {
        const fewest = fewestAnswers(protocol, 0.05, sides);
        for (let total = 1; total < fewest + 3; total++) {
          const answers = { protocol, correct: total, total };
          const said = sayDifference(answers, 0.05, estimateDifference(answers), sides);
          const planned = sayPlan({ aim: 'difference', protocol, alpha: 0.05, sides }, total, {
            d_prime: 1.5,
          });
          if (total < fewest) {
            expect(said.map((f) => f.firmness)).toEqual(['cannot']);
            expect(said[0]!.sentence).toContain(String(fewest));
            expect(planned[0]!.code).toBe('difference_cannot_reach');
          } else {
            expect(said[0]!.firmness).toBe('clear');
            expect(planned[0]!.firmness).toBe('note');
          }
        }
      }
  });
  it('rankings: two tasters and three cups cannot, three can', () => {
    expect(fullAgreementP(3, 3)).toBeCloseTo(1 / 36, 12);
    expect(fewestTasters(3, 0.05)).toBe(3);
    expect(sayRankingPlan(2, 3, 0.05).firmness).toBe('cannot');
    expect(sayRankingPlan(3, 3, 0.05).firmness).toBe('note');
  });
  it('four of four triangles: different, not better (p 0.012)', () => {
    const answers = { protocol: 'triangle', correct: 4, total: 4 } as const;
    const [first] = sayDifference(answers, 0.05, estimateDifference(answers));
    expect(first!.sentence).toBe(
      'Different. 4 of 4 right; by guessing that happens 1 time in 81 (p 0.012). It says different, not better.',
    );
  });
  it('an undecided test names its upper end and how many more cups decide it', () => {
    const answers = { protocol: 'triangle', correct: 3, total: 5 } as const;
    const said = sayDifference(answers, 0.05, estimateDifference(answers));
    expect(said[0]!.code).toBe('difference_not_shown');
    expect(said[0]!.sentence).toContain('does not show that the cups are the same');
    const plan = { aim: 'difference', protocol: 'triangle', alpha: 0.05 } as const;
    const more = moreAnswers(plan, answers, { d_prime: 1.5 })!;
    expect(more.chance).toBeGreaterThanOrEqual(0.8);
    // Two looks let guessing pass more often than one.
    expect(more.false_alarm).toBeGreaterThan(0.05);
    expect(more.false_alarm).toBeLessThan(0.1);
    expect(sayMore(plan, answers, { d_prime: 1.5 }).sentence).toContain(`${more.more} more answers`);
    expect(moreAnswers(plan, { correct: 5, total: 5 }, { d_prime: 1.5 })!.more).toBe(0);
    expect(moreAnswers(plan, answers, { discriminators: 0 })).toBeNull();
  });
  it('power never falls with a larger difference', () => {
    for (const protocol of PROTOCOL_NAMES) {
      const plan = { aim: 'difference', protocol, alpha: 0.05 } as const;
      const powers = [0, 0.5, 1, 1.5, 2, 3].map((d) => testPower(plan, 24, { d_prime: d }));
      expect(powers[0]).toBeLessThanOrEqual(0.05);
      expect([...powers].sort((a, b) => a - b)).toEqual(powers);
    }
  });
  it('every sentence can be filled and none is left open', () => {
    for (const code of Object.keys(findingSentences)) {
      const names = [...findingSentences[code]!.matchAll(/\{(\w+)\}/g)].map((m) => m[1]!);
      const { sentence } = finding('note', code, Object.fromEntries(names.map((n) => [n, 'x'])));
      expect(sentence).not.toMatch(/[{}]/);
      expect(sentence).toMatch(/[.?]$/);
    }
    expect(() => finding('note', 'no_such')).toThrow(/no_such/);
    expect([0.21, 1 / 81, 1e-9].map(chanceWords)).toEqual([
      '21 times in 100',
      '1 time in 81',
      'less than once in a million times',
    ]);
  });
});

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

describe('just about right and time', () => {
  it('a penalty by hand: 3 right, 2 too much, 1 of 10 choices', () => {
    const found = justAboutRight([
      { level: 'right', liking: 8 },
      { level: 'right', liking: 7 },
      { level: 'right', liking: 7.5 },
      { level: 'too_much', liking: 6 },
      { level: 'too_much', liking: 5 },
      { level: 'too_little', liking: 7 },
    ]);
    const much = found.penalties.find((p) => p.side === 'too_much')!;
    expect(much.drop).toBeCloseTo(2, 12);
    expect(much.p).toEqual({ p: 0.1, from: 'all' });
    expect(much.weighted).toBeCloseTo(2 / 3, 12);
    expect(found.penalties[0]!.p).toBeNull();
  });
  it('significance of dominance; formula from memory of Pineau 2009', () => {
    expect(dominanceLevels(dominance.words, dominance.runs).shown).toBeCloseTo(dominance.shown, 4);
  });
  it('curves over time, tasters drawn whole', () => {
    const runs = [0, 1, 2, 3].map((taster) => ({
      taster,
      ticks: spansOfClicks(
        [
          { word: 1, at_s: 10 + taster },
          { word: 0, at_s: 2 },
        ],
        20,
      ),
    }));
    const curves = temporalCurves(runs, { words: 2, end_s: 20, points: 20 });
    expect(curves.shares[0]![0]).toBe(0);
    expect(curves.shares[0]![5]).toBe(1);
    expect(curves.shares[1]![11]).toBe(0.5);
    expect(curves.low[1]![11]).toBeLessThan(0.5);
    expect(curves.high[1]![11]).toBeGreaterThan(0.5);
    expect(curves.low[1]![19]).toBe(1);
    const stretched = temporalCurves(runs, { words: 2, end_s: null, points: 10 });
    expect(stretched.times[0]).toBe(5);
    expect(stretched.shares[0]![0]).toBe(1);
    const fading = temporalCurves(runs, { words: 2, end_s: 20, points: 20, fade_s: 3 });
    expect(fading.shares[0]![6]).toBe(0);
  });
  it('a difference over time pays for all words and seconds; five tasters can never show one', () => {
    const runs = (n: number, late: number) =>
      Array.from({ length: n }, (_, taster) => ({
        taster,
        ticks: [{ word: 0, from_s: 2 + late, to_s: 12 + late }],
      }));
    const grid = { words: 1, end_s: 30, points: 30 };
    const six = temporalDifference(runs(6, 0), runs(6, 10), grid)!;
    expect(six.p).toEqual({ p: 2 / 64, from: 'all' });
    expect(sayTemporal(six, ['sweet'], 6, 's').firmness).toBe('clear');
    const five = temporalDifference(runs(5, 0), runs(5, 10), grid)!;
    expect(five.threshold).toBeGreaterThan(1);
    expect(sayTemporal(five, ['sweet'], 5, 's').firmness).toBe('cannot');
    expect(temporalDifference(runs(6, 0), runs(6, 0), grid)!.p.p).toBe(1);
    expect(temporalDifference(runs(1, 0), runs(1, 0), grid)).toBeNull();
  });
});

describe('care', () => {
  const adult = { name: 'Ines', age: 34, pregnant_or_lactating: false };
  it('remaining caffeine (computed)', () => {
    const doses = caffeine.doses.map(([at_h, mg]) => ({ at_h: at_h!, mg: mg! }));
    caffeine.at_h.forEach((t, i) => {
      expect(remainingCaffeine(doses, t, caffeine.half_life_h)).toBeCloseTo(caffeine.remaining_mg[i]!, 3);
    });
  });
  it('a brew, a sip, and spitting counted as swallowing unless assumed otherwise', () => {
    const brew = brewCaffeine(15);
    expect(brew).toEqual({ low: 120, high: 180 });
    expect(sipCaffeine(brew, 225, 15).high).toBeCloseTo(12, 10);
    expect(sipCaffeine(brew, 225, 15, 0.25).high).toBeCloseTo(3, 10);
  });
  it('stops before an occasion or a day passes its limit, at the upper end', () => {
    const cup = { low: 30, high: 40 };
    const had = (mg: number, at_h: number) => ({ at_h, mg: { low: mg, high: mg } });
    expect(caffeineLedger(adult, [had(161, 0)], 1, cup)).toMatchObject({ cups_left: 0, may_taste: false });
    expect(caffeineLedger(adult, [had(160, 0)], 1, cup)).toMatchObject({ cups_left: 1, may_taste: true });
    expect(caffeineLedger(adult, [had(160, 0)], 4, cup).cups_left).toBe(5);
    expect(caffeineLedger(adult, [had(190, 0), had(180, 5)], 12, cup).findings[0]!.code).toBe('day_limit');
    expect(caffeineLedger({ ...adult, pregnant_or_lactating: true }, [had(170, 0)], 8, cup).may_taste).toBe(
      false,
    );
    expect(caffeineLedger(adult, [], 0, { low: 0, high: 0 })).toMatchObject({
      cups_left: null,
      may_taste: true,
    });
    const left = caffeineLedger(adult, [had(100, 0)], 5, cup).remaining_mg;
    expect(left.mean).toBeCloseTo(50, 10);
    expect(left.fast).toBeLessThan(left.mean);
    expect(left.slow).toBeGreaterThan(left.mean);
  });
  it('minors and people who did not give an age do not taste; every caution says it is not advice', () => {
    expect(admission({ ...adult, age: 17 })[0]).toMatchObject({ firmness: 'cannot', code: 'minor_refused' });
    expect(admission({ ...adult, age: null })[0]!.code).toBe('age_missing');
    expect(caffeineLedger({ ...adult, age: 12 }, [], 0, { low: 1, high: 2 }).may_taste).toBe(false);
    expect(findingSentences.day_limit).toContain('not medical advice');
  });
  it('hot sips and allergens', () => {
    expect(sipCaution(65.1)).toMatchObject({ firmness: 'cannot' });
    expect(sipCaution(70, 3.2)!.sentence).toContain('about 4 min');
    expect(sipCaution(62)).toMatchObject({ firmness: 'caution' });
    expect(sipCaution(60)).toBeNull();
    const samples = [
      { name: 'plain', may_carry: [] },
      { name: 'with oat milk', may_carry: ['Gluten'] },
    ];
    expect(blockedSamples({ name: 'Kei', allergens: ['gluten '] }, samples).map((b) => b.sample)).toEqual([
      1,
    ]);
  });
});

describe('calibration and unbalanced panels', () => {
  const scores = [1, 2, 3, 4].flatMap((session) =>
    ['Ines', 'Joris', 'Kei'].flatMap((taster, t) =>
      ['x', 'y', 'x'].map((cup, i) => ({
        taster,
        session,
        cup,
        score:
          6 +
          (cup === 'y' ? 1 : 0) +
          [0, 0.5, 0.1 * session][t]! +
          [0.1, 0.1, 0.3][t]! * ((i + session * (t + 2)) % 3 === 0 ? 1 : -1),
      })),
    ),
  );
  it('offset, drift and repeatability of each taster; weights shown and adding up to 1', () => {
    const found = calibrate(scores, { agreed: { x: 6, y: 7 }, weights: 'by_repeatability' });
    const of = (name: string) => found.find((t) => t.taster === name)!;
    expect(of('Joris').offset).toBeGreaterThan(0.3);
    expect(Math.abs(of('Joris').shrunken_offset)).toBeLessThanOrEqual(Math.abs(of('Joris').offset));
    expect(of('Kei').drift!.per_session).toBeGreaterThan(0.02);
    expect(of('Kei').weight).toBeLessThanOrEqual(of('Ines').weight);
    expect(found.reduce((t, c) => t + c.weight, 0)).toBeCloseTo(1, 12);
    expect(calibrate(scores).map((t) => t.weight)).toEqual([1 / 3, 1 / 3, 1 / 3]);
  });
  it('a panel with holes and windows: cups differ, the same way in each window', () => {
    const rows = TASTERS.flatMap((taster, t) =>
      ['a', 'b', 'c'].flatMap((cup, c) =>
        ['hot', 'cold'].flatMap((window, w) =>
          (t + c + w) % 7 === 6
            ? []
            : [
                {
                  taster,
                  cup,
                  window,
                  score: 6 + c + 0.5 * w + 0.2 * t + 0.1 * ((t * 3 + c * 5 + w * 2) % 4),
                },
              ],
        ),
      ),
    );
    const found = panelMixed(rows)!;
    expect(found.cups).toEqual(['a', 'b', 'c']);
    expect(found.cup_test!.p).toBeLessThan(1e-6);
    expect(found.window_test!.p).toBeGreaterThan(0.05);
    expect(found.pairs).toHaveLength(3);
    for (const { difference, first, second, p_holm, p } of found.pairs) {
      expect(difference).toBeCloseTo(first === 'a' && second === 'c' ? -2 : -1, 0);
      expect(p_holm).toBeGreaterThanOrEqual(p);
    }
    expect(panelMixed(rows.slice(0, 3))).toBeNull();
  });
});
