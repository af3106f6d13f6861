import { describe, expect, it } from 'vitest';
import { sample } from '../documents/testing/samples.ts';
import { likedCups } from './liked-cups.ts';
import { preferredRegion } from './preferred-region.ts';
import { marks } from './testing/marks.ts';

describe('a preferred region learned from marks', () => {
  it('says nothing of four cups but how many more it takes', () => {
    const region = preferredRegion(marks(4, 3, 0.4, 1));
    expect(region).toMatchObject({ verdict: 'few', best: null, more: 1 });
    expect(region.remarks[0]!.sentence).toBe(
      '4 cups with a mark are too few to say what is liked. 1 more, spread over strength and yield, make a first guess.',
    );
  });
  it('finds the top of a hill', () => {
    const region = preferredRegion(marks(30, 4, 0.4, 2));
    expect(region.verdict).toBe('settled');
    const { best } = region;
    expect(Math.abs(best!.strength_pct - 1.4)).toBeLessThan(0.1);
    expect(Math.abs(best!.yield_pct - 20.5)).toBeLessThan(1.2);
    expect(region.noise!).toBeLessThan(0.9);
  });
  it('sees no preference where there is none', () => {
    const region = preferredRegion(marks(25, 0, 0.6, 3));
    expect(region.verdict).toBe('flat');
    expect(Math.min(...region.near_best)).toBeGreaterThan(0.4);
  });
  it('is wider for fewer cups, and asks for more', () => {
    const few = preferredRegion(marks(7, 3, 0.8, 4));
    const many = preferredRegion(marks(40, 3, 0.8, 4));
    const width = (r: typeof few) => r.best!.yield_range_pct[1] - r.best!.yield_range_pct[0];
    expect(width(few)).toBeGreaterThan(width(many));
    expect(few.more === null || few.more > 0).toBe(true);
  });
  it('warns when the best place lies beyond what was tasted', () => {
    const rising = marks(20, 0, 0.2, 5).map((cup) => ({ ...cup, liking: 2 + 10 * (cup.strength_pct - 1.1) }));
    expect(preferredRegion(rising).verdict).toBe('edge');
  });
  it('does not take two tasters for a preference who use the scale differently', () => {
    const left = marks(12, 0, 0.3, 6).map((cup) => ({ ...cup, strength_pct: 1.2 + cup.strength_pct / 20 }));
    const right = marks(12, 0, 0.3, 7).map((cup) => ({ ...cup, by: 'M', liking: cup.liking - 2 }));
    expect(preferredRegion([...left, ...right]).verdict).toBe('flat');
  });
  it('is the same for the same marks', () => {
    const cups = marks(10, 3, 0.5, 8);
    expect(preferredRegion(cups)).toEqual(preferredRegion(cups));
  });
});

describe('marks of trials', () => {
  it('are one a cup and taster, without what does not count', () => {
    const trial = { ...sample('trial') };
    trial.tasted = [
      { when: 'hot', temperature_C: null, liking: 6, words: [], by: 'N', blind: false },
      { when: 'cold', temperature_C: null, liking: 8, words: [], by: 'N', blind: false },
      { when: 'cold', temperature_C: null, liking: 5, words: [], by: 'M', blind: false },
      { when: 'cold', temperature_C: null, liking: null, words: ['peach'], by: 'M', blind: false },
    ];
    const measured = { trial, strength_pct: 1.4, yield_pct: 20 };
    expect(likedCups([measured]).map(({ by, liking }) => [by, liking])).toEqual([
      ['N', 7],
      ['M', 5],
    ]);
    expect(likedCups([measured], { by: 'N', when: 'hot' })).toMatchObject([{ liking: 6 }]);
    expect(likedCups([{ ...measured, yield_pct: null }])).toEqual([]);
    expect(likedCups([{ ...measured, trial: { ...trial, counted: false } }])).toEqual([]);
  });
});
