import { describe, expect, it } from 'vitest';
import examples from '../../../reference/panel-examples/examples.json' with { type: 'json' };
import { justAboutRight } from './just-about-right.ts';
import { sayJustAboutRight, sayTemporal } from './say-results.ts';
import { dominanceLevels, spansOfClicks, temporalCurves, temporalDifference } from './temporal.ts';

const { dominance } = examples;

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
    // 1 of 10 is the least there is, so nothing is claimed either way.
    const codes = sayJustAboutRight(found, 'acidity', 0.05).map((f) => f.code);
    expect(codes).toEqual(['jar_few', 'jar_cannot_reach']);
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
