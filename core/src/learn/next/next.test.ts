import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { diceFrom } from '../chance.ts';
import { planDialIn } from './dial-in.ts';
import { expectedInformation } from './information.ts';
import { championPair } from './pair.ts';
import { brewsLeft, suggestNext } from './suggest.ts';
import type { DialInQuestion, NextQuestion, TriedBrew } from './types.ts';

const factors = [
  { name: 'grind', unit: 'marks', low: 16, high: 24, step: 0.5 },
  { name: 'temperature', unit: '°C', low: 88, high: 96, step: 1 },
];
/** An invented coffee: best at 19 marks and 92.5 °C. */
const truth = ([grind, temperature]: readonly number[]) =>
  86 - 0.15 * (grind! - 19) ** 2 - 0.08 * (temperature! - 92.5) ** 2;

const brew = (levels: readonly number[], value: number | null, age_d: number | null = null): TriedBrew => ({
  name: levels.join(' / '),
  levels,
  value,
  doubt: 0.1,
  age_d,
});
const question = (tried: readonly TriedBrew[], more: Partial<NextQuestion> = {}): NextQuestion => ({
  figure: { name: 'score', unit: 'points', decimals: 1 },
  factors,
  tried,
  preferred: [],
  aim: { by: 'most' },
  repeat_sd: 0.2,
  budget: { grams: 200, dose_g: 16.5, minutes: null, brew_min: 5 },
  expect: null,
  seed: 1,
  ...more,
});
const START = [
  [20, 92],
  [17, 89],
  [23, 95],
  [17, 95],
];
const seen = START.map((levels) => brew(levels, truth(levels)));
const codes = (of: { findings: readonly { code: string }[] }) => of.findings.map(({ code }) => code);

describe('the next brew', () => {
  it('begins in the middle of the ranges', () => {
    const { suggestions, champion, findings } = suggestNext(question([]));
    expect(champion).toBeNull();
    expect(suggestions[0]!.levels).toEqual([20, 92]);
    expect(findings[0]!.sentence).toContain('grind 20.0 marks and temperature 92 °C');
  });
  it('suggests only what can be set, within the ranges', () => {
    for (const { levels } of suggestNext(question(seen)).suggestions) {
      expect(levels[0]! * 2).toBeCloseTo(Math.round(levels[0]! * 2), 9);
      expect(levels[1]).toBe(Math.round(levels[1]!));
      expect(levels[0]).toBeGreaterThanOrEqual(16);
      expect(levels[0]).toBeLessThanOrEqual(24);
    }
  });
  it('is the same for the same question', () => {
    expect(suggestNext(question(seen))).toEqual(suggestNext(question(seen)));
  });
  it('climbs a noisy hill in six brews', () => {
    const { normal } = diceFrom(5);
    const tried = START.map((levels) => brew(levels, truth(levels) + 0.2 * normal()));
    for (let k = 0; k < 6; k++) {
      const [best] = suggestNext(question(tried, { seed: k })).suggestions;
      tried.push(brew(best!.levels, truth(best!.levels) + 0.2 * normal()));
    }
    const { champion } = suggestNext(question(tried));
    expect(truth(tried[champion!.tried]!.levels)).toBeGreaterThan(85.7);
  });
  it('the least is the most of the opposite', () => {
    const most = suggestNext(question(seen));
    const least = suggestNext(
      question(
        seen.map((b) => ({ ...b, value: -b.value! })),
        { aim: { by: 'least' } },
      ),
    );
    expect(least.suggestions[0]!.levels).toEqual(most.suggestions[0]!.levels);
    expect(least.champion!.mean).toBeCloseTo(-most.champion!.mean, 9);
  });
  it('goes for a target between what was seen on both sides', () => {
    const line = [16, 18, 22, 24].map((grind) => brew([grind, 92], 1.7 - 0.05 * (grind - 16)));
    const { suggestions, champion } = suggestNext(
      question(line, { aim: { by: 'target', target: 1.5 }, repeat_sd: 0.01 }),
    );
    expect(Math.abs(suggestions[0]!.levels[0]! - 20)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(suggestions[0]!.mean - 1.5)).toBeLessThan(Math.abs(champion!.mean - 1.5));
  });
  it('a lucky single value does not make a champion', () => {
    const tried = [
      ...[86, 86.1, 85.9, 86].map((value) => brew([19, 92], value)),
      brew([23, 95], 86.6),
      ...[84.4, 84.6, 84.5].map((value) => brew([23, 95], value)),
    ];
    const found = suggestNext(question(tried, { repeat_sd: 0.6 }));
    expect(tried[found.champion!.tried]!.levels).toEqual([19, 92]);
    expect(codes(found)).toContain('champion_lucky');
  });
  it('learns from blind choices alone', () => {
    const tried = START.map((levels) => brew(levels, null));
    const preferred = [
      [0, 1],
      [0, 2],
      [0, 3],
      [3, 2],
      [0, 2],
      [3, 1],
    ].map(([better, worse]) => ({ better: better!, worse: worse! }));
    const found = suggestNext(question(tried, { preferred, repeat_sd: null }));
    expect(found.champion!.tried).toBe(0);
    const far = found.suggestions.filter(({ levels }) => levels[0] === 24);
    expect(far.length).toBe(0);
  });
  it('a steady fall with age is not taken for a worse plan', () => {
    // Two settings brewed by turns while the coffee loses 0.5 a day; the second one is better by 0.6.
    const tried = Array.from({ length: 10 }, (_, d) =>
      brew(d % 2 ? [20, 92] : [18, 92], 86 - 0.5 * d + (d % 2 ? 0.6 : 0), 10 + d),
    );
    const found = suggestNext(question(tried, { repeat_sd: 0.1 }));
    expect(tried[found.champion!.tried]!.levels).toEqual([20, 92]);
    expect(found.learned.drift_per_d!).toBeCloseTo(-0.5, 1);
  });
  it('what is expected from the engine stands until brews say otherwise', () => {
    const expectAt = (levels: readonly number[]) => 80 + levels[0]! / 10;
    const found = suggestNext(question([brew([20, 92], 82)], { expect: expectAt }));
    expect(found.suggestions[0]!.mean).toBeGreaterThan(80);
    expect(found.champion!.mean).toBeCloseTo(82, 1);
  });
  it('stops when nothing that could be told apart is left to gain', () => {
    const around = [
      [19, 92],
      [19, 93],
      [18, 92],
      [20, 92],
      [17, 90],
      [21, 94],
      [18, 94],
      [20, 90],
      [22, 92],
      [16, 92],
    ];
    const tried = around.map((levels) => brew(levels, truth(levels)));
    const found = suggestNext(question(tried, { repeat_sd: 0.5 }));
    expect(found.stop).toBe(true);
    expect(codes(found)).toContain('next_stop');
    expect(suggestNext(question(tried.slice(0, 3), { repeat_sd: 0.5 })).stop).toBe(false);
  });
  it('says when grams or minutes allow no brew', () => {
    const found = suggestNext(
      question(seen, { budget: { grams: 10, dose_g: 16.5, minutes: 30, brew_min: 5 } }),
    );
    expect(found).toMatchObject({ brews_left: 0, suggestions: [] });
    expect(found.findings.at(-1)).toMatchObject({ firmness: 'cannot', code: 'no_brews_left' });
    expect(brewsLeft({ grams: 100, dose_g: 16.5, minutes: 12, brew_min: 5 })).toBe(2);
  });
  it('pairs the champion with a challenger, and fixes beforehand what decides', () => {
    const pair = championPair(question(seen))!;
    expect(pair).toMatchObject({ wins_in_a_row: 5, wins_of: { wins: 7, tastings: 8 }, grams: 33 });
    expect(pair.order).toEqual(['champion', 'challenger', 'challenger', 'champion']);
    expect(championPair(question([]))).toBeNull();
  });
});

describe('what a brew would teach', () => {
  it('one figure, normal: ½ log₂(1 + spread²/noise²)', () => {
    const draws = Array.from({ length: 4001 }, (_, i) => [(i - 2000) / 1000]);
    const spread = Math.sqrt(draws.reduce((t, [v]) => t + v! * v!, 0) / 4000);
    const { bits } = expectedInformation({ predictions: [draws], noise: [0.5], grams: [16] });
    expect(bits[0]).toBeCloseTo(0.5 * Math.log2(1 + (spread / 0.5) ** 2), 9);
  });
  it('a figure that follows another adds less than its own worth, and grams count', () => {
    const { normal } = diceFrom(2);
    const draws = Array.from({ length: 500 }, () => [normal(), normal()] as [number, number]);
    const one = draws.map(([a]) => [a, 0]);
    const twice = draws.map(([a]) => [a, a]);
    const both = draws;
    const { bits, best } = expectedInformation({
      predictions: [one, twice, both],
      noise: [1, 1],
      grams: [8, 16, 16],
    });
    expect(bits[0]!).toBeLessThan(bits[1]!);
    expect(bits[1]!).toBeLessThan(bits[2]!);
    expect(best).toBe(0);
  });
  it('nothing is learnt where everything predicts the same', () => {
    const { bits } = expectedInformation({ predictions: [[[1], [1], [1]]], noise: [0.1], grams: [16] });
    expect(bits[0]).toBeCloseTo(0, 12);
  });
});

describe('an unknown coffee, so many minutes', () => {
  const base: DialInQuestion = {
    minutes: 38,
    grams: 350,
    dose_g: 16,
    purge_g: 2,
    serve_cups: 3,
    spare_doses: 1,
    brew_s: 200,
    ready_s: 100,
    cool_s: 120,
    taste_s: 40,
    close_min: 2,
    factors,
    seed: 1,
  };
  it('38 minutes and 350 g: seven brews, bound by time', () => {
    const plan = planDialIn(base);
    expect(plan.brews.map(({ purpose }) => purpose)).toEqual([
      'first',
      'explore',
      'explore',
      'explore',
      'choose',
      'choose',
      'confirm',
    ]);
    expect(plan).toMatchObject({ bound_by: 'time', grams_used: 126, grams_kept: 72 });
    expect(plan.brews[0]!.levels).toEqual([20, 92]);
  });
  it('keeps coffee for serving before anything else', () => {
    expect(codes(planDialIn({ ...base, grams: 60 }))).toEqual(['dial_in_grams_short']);
    expect(planDialIn({ ...base, grams: 110 })).toMatchObject({ bound_by: 'grams', grams_used: 36 });
    expect(codes(planDialIn({ ...base, minutes: 7 }))).toEqual(['dial_in_none']);
  });
  it('never brews two at once, never tastes two at once, never overruns, never knows what was not tasted', () => {
    const seconds = fc.integer({ min: 10, max: 500 });
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 90 }),
        fc.integer({ min: 20, max: 800 }),
        seconds,
        seconds,
        seconds,
        seconds,
        (minutes, grams, brew_s, ready_s, cool_s, taste_s) => {
          const plan = planDialIn({ ...base, minutes, grams, brew_s, ready_s, cool_s, taste_s });
          plan.brews.forEach((brew, i) => {
            const before = plan.brews[i - 1];
            if (before) {
              expect(brew.start_s).toBeGreaterThanOrEqual(before.end_s);
              expect(brew.taste_from_s).toBeGreaterThanOrEqual(before.taste_until_s);
            }
            expect(brew.taste_from_s).toBeGreaterThanOrEqual(brew.end_s + cool_s);
            for (const k of brew.known)
              expect(plan.brews[k]!.taste_until_s).toBeLessThanOrEqual(brew.start_s);
          });
          expect(plan.grams_used + plan.grams_kept).toBeLessThanOrEqual(grams + 1e-9);
          expect(plan.ends_s).toBeLessThanOrEqual((minutes - base.close_min) * 60 + 1e-6);
        },
      ),
      { numRuns: 200 },
    );
  });
});
