/** How near the search comes to the lowest points of published test functions, and how often "better" was. */
import { describe, expect, it } from 'vitest';
import examples from '../../../../reference/gaussian-process/examples.json' with { type: 'json' };
import { sobolPoints } from '../../brew/sampling/sobol.ts';
import { diceFrom } from '../chance.ts';
import { suggestNext } from './suggest.ts';
import type { NextQuestion, TriedBrew } from './types.ts';

const { branin: BRANIN, hartmann6: HARTMANN } = examples.functions;

const branin = ([x, y]: readonly number[]) =>
  (y! - (5.1 / (4 * Math.PI ** 2)) * x! ** 2 + (5 / Math.PI) * x! - 6) ** 2 +
  10 * (1 - 1 / (8 * Math.PI)) * Math.cos(x!) +
  10;
const hartmann = (x: readonly number[]) =>
  -HARTMANN.alpha.reduce(
    (t, alpha, i) =>
      t +
      alpha *
        Math.exp(-x.reduce((u, v, j) => u + HARTMANN.a[i]![j]! * (v - HARTMANN.p[i]![j]! / 1e4) ** 2, 0)),
    0,
  );

const question = (
  factors: NextQuestion['factors'],
  tried: readonly TriedBrew[],
  repeat_sd: number,
  seed: number,
) => ({
  figure: { name: 'value', unit: '', decimals: 3 },
  factors,
  tried,
  preferred: [],
  aim: { by: 'least' as const },
  repeat_sd,
  budget: { grams: 1e4, dose_g: 16, minutes: null, brew_min: 5 },
  expect: null,
  seed,
});
const box = (low: number, high: number, name: string) => ({ name, unit: '', low, high, step: null });

/** Lowest value after so many points: `first` spread evenly, the others as suggested. */
function lowest(
  f: (x: readonly number[]) => number,
  factors: NextQuestion['factors'],
  first: number,
  all: number,
  seed: number,
): number {
  const k = factors.length;
  const start = sobolPoints(first, k, seed);
  const tried = Array.from({ length: first }, (_, i) => {
    const levels = factors.map(({ low, high }, j) => low + (high - low) * start[i * k + j]!);
    return { name: `${i}`, levels, value: f(levels), doubt: 0, age_d: null };
  });
  while (tried.length < all) {
    const { levels } = suggestNext(question(factors, tried, 0.01, tried.length)).suggestions[0]!;
    tried.push({ name: '', levels, value: f(levels), doubt: 0, age_d: null });
  }
  return Math.min(...tried.map(({ value }) => value));
}

describe.runIf(process.env.POURLINE_SLOW === '1')('search for the next brew', { timeout: 300_000 }, () => {
  it('test functions are as printed at their lowest points', () => {
    for (const at of BRANIN.at) expect(Math.abs(branin(at) - BRANIN.min)).toBeLessThan(1e-5);
    expect(hartmann(HARTMANN.at)).toBeCloseTo(HARTMANN.min, 12);
  });
  it('Branin (lowest 0.398, mean 54): within 0.5 after 20 points, from both of two starts', () => {
    const factors = [box(-5, 10, 'x'), box(0, 15, 'y')];
    for (const seed of [1, 2]) expect(lowest(branin, factors, 5, 20, seed) - BRANIN.min).toBeLessThan(0.5);
  });
  it('Hartmann-6 (lowest −3.32): below −2.8 after 32 points in six dimensions, lower than 2 000 even points find', () => {
    const factors = ['a', 'b', 'c', 'd', 'e', 'f'].map((name) => box(0, 1, name));
    const found = lowest(hartmann, factors, 12, 32, 1);
    const even = sobolPoints(2_000, 6, 1);
    const best = Math.min(
      ...Array.from({ length: 2_000 }, (_, i) => hartmann([...even.subarray(i * 6, i * 6 + 6)])),
    );
    expect(found).toBeLessThan(-2.8);
    expect(found).toBeLessThan(best);
  });
  it('the chance of beating the champion is held: over 80 noisy hills, as often as said within 12 points of 100', () => {
    const { normal } = diceFrom(9);
    const factors = [box(16, 24, 'grind'), box(88, 96, 'temperature')];
    let [said, was] = [0, 0];
    const hills = 80;
    for (let k = 0; k < hills; k++) {
      const peak = [20 + 1.5 * normal(), 92 + 1.5 * normal()];
      const bend = [0.1 * Math.exp(0.5 * normal()), 0.1 * Math.exp(0.5 * normal())];
      const truth = ([g, t]: readonly number[]) =>
        bend[0]! * (g! - peak[0]!) ** 2 + bend[1]! * (t! - peak[1]!) ** 2;
      const start = sobolPoints(7, 2, k);
      const tried = Array.from({ length: 7 }, (_, i) => {
        const levels = [16 + 8 * start[2 * i]!, 88 + 8 * start[2 * i + 1]!];
        return { name: '', levels, value: truth(levels) + 0.2 * normal(), doubt: 0, age_d: null };
      });
      const { champion, suggestions } = suggestNext(question(factors, tried, 0.2, k));
      said += suggestions[0]!.chance_better / hills;
      was += Number(truth(suggestions[0]!.levels) < truth(tried[champion!.tried]!.levels)) / hills;
    }
    console.log(`chance of beating the champion: said ${said.toFixed(2)}, was ${was.toFixed(2)}`);
    expect(Math.abs(said - was)).toBeLessThan(0.12);
  });
});
