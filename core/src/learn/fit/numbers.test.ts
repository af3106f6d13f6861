import { describe, expect, it } from 'vitest';
import { diceFrom } from '../chance.ts';
import { ensemble } from './ensemble.ts';
import { bandOf, inverseOf, momentsOf } from './linear.ts';
import { spreadOut, valueAt } from './observe.ts';
import { LEARNED_PRIORS, NOISE_PRIORS, naturalAt, stretchOf, toNatural } from './prior.ts';

const Z95 = 1.6448536269514722;

describe('priors as maps from a standard normal', () => {
  it.each(Object.entries({ ...LEARNED_PRIORS, ...NOISE_PRIORS }))(
    '%s has its median in the middle, its ends at 5 and 95 %, and rises',
    (_, prior) => {
      const stretch = stretchOf(prior);
      const wanted = [prior.low, prior.median, prior.high].map((x) => toNatural(prior.natural, x));
      [-Z95, 0, Z95].forEach((z, i) => {
        expect(naturalAt(stretch, z)).toBeCloseTo(wanted[i]!, 12);
      });
      for (let z = -6; z < 6; z += 0.5)
        expect(naturalAt(stretch, z + 0.5)).toBeGreaterThan(naturalAt(stretch, z));
    },
  );
});

describe('temperatures as a level and contrasts', () => {
  it('keep the sum of squares about the mean', () => {
    const values = [71, 74, 80, 79, 83];
    const [mean, ...contrasts] = spreadOut(values);
    expect(mean).toBeCloseTo(77.4, 12);
    const about = values.reduce((sum, x) => sum + (x - 77.4) ** 2, 0);
    expect(contrasts.reduce((sum, x) => sum + x * x, 0)).toBeCloseTo(about, 10);
  });
  it('are read between finite records only', () => {
    const time = Float64Array.of(0, 1, 2, 3);
    const values = Float64Array.of(Number.NaN, 10, Number.NaN, 30);
    expect(valueAt(time, values, 0)).toBe(10);
    expect(valueAt(time, values, 2)).toBe(20);
    expect(valueAt(time, values, 9)).toBe(30);
    expect(valueAt(time, values.fill(Number.NaN), 1)).toBeNaN();
  });
});

describe('the ensemble, on a normal that is tilted and a thousand times as long as wide', () => {
  // Covariance of (x, y) = (1000 a, a + b): 1e6, 1e3, 2.
  const value = (z: Float64Array): number => {
    const a = z[0]! / 1_000;
    return -0.5 * (a * a + (z[1]! - a) ** 2);
  };
  const run = (seed: number, guess = 1) => {
    const dice = diceFrom(3);
    const start = Array.from({ length: 24 }, () => [dice.normal(), dice.normal()]);
    const work = ensemble(
      value,
      start,
      { mean: [0, 0], covariance: Float64Array.of(guess, 0, 0, guess) },
      { walkers: 24, seed, burn: 200, most: 1_500, effective: 1e9, thin: 2 },
    );
    let step = work.next();
    while (!step.done) step = work.next();
    return step.value;
  };
  it('finds mean and covariance, although it began round and told nothing of the tilt', () => {
    const { kept, count, walkers, effective, rHat } = run(5);
    const points = Array.from({ length: count * walkers }, (_, i) => kept.subarray(2 * i, 2 * i + 2));
    const { mean, covariance } = momentsOf(points, 2);
    expect(effective).toBeGreaterThan(1_000);
    expect(rHat).toBeLessThan(1.05);
    const error = 4 / Math.sqrt(effective);
    expect(Math.abs(mean[0]! / 1_000)).toBeLessThan(error);
    expect(Math.abs(mean[1]! / Math.SQRT2)).toBeLessThan(error);
    expect(Math.abs(covariance[0]! / 1e6 - 1)).toBeLessThan(1.5 * error);
    expect(Math.abs(covariance[1]! / 1e3 - 1)).toBeLessThan(2 * error);
    expect(Math.abs(covariance[3]! / 2 - 1)).toBeLessThan(1.5 * error);
  });
  it('gives the same for the same seed, and other draws for another', () => {
    expect(run(7).kept).toEqual(run(7).kept);
    expect(run(7).kept).not.toEqual(run(8).kept);
  });
});

describe('small matrices', () => {
  it('are inverted whatever the size of their unknowns', () => {
    const a = Float64Array.of(4e12, 1e3, 1e3, 3e-6);
    const inverse = inverseOf(a, 2);
    expect(a[0]! * inverse[0]! + a[1]! * inverse[2]!).toBeCloseTo(1, 9);
    expect((a[0]! * inverse[1]! + a[1]! * inverse[3]!) / 1e9).toBeCloseTo(0, 9);
  });
  it('give bands by order statistics, leaving out what does not exist', () => {
    const band = bandOf([...Array.from({ length: 101 }, (_, i) => i), Number.NaN]);
    expect(band).toEqual({ low: 5, mid: 50, high: 95 });
  });
});
