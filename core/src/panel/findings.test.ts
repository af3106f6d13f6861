import { describe, expect, it } from 'vitest';
import { estimateDifference } from './d-prime.ts';
import { fewestAnswers } from './difference-test.ts';
import { findingSentences } from './finding-sentences.ts';
import { chanceWords, finding } from './findings.ts';
import { moreAnswers, testPower } from './power.ts';
import { PROTOCOL_NAMES } from './protocols.ts';
import { fewestTasters, fullAgreementP, sayRankingPlan } from './say-results.ts';
import { sayDifference, sayMore, sayPlan } from './say-tests.ts';

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
