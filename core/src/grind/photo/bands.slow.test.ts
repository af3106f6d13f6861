import { describe, expect, it } from 'vitest';
import { summarisePhoto, weightedQuantile } from './summarise.ts';
import { measurementOf } from './testing/plain-pictures.ts';
import { type Dice, dice } from './testing/shape.ts';

/** Grounds to draw from: ln of the size of one grain. */
const GROUNDS: Readonly<Record<string, (random: Dice) => number>> = {
  'log-normal 1.3': (r) => Math.log(1.3) * r.normal(),
  'log-normal 1.5': (r) => Math.log(1.5) * r.normal(),
  'two modes': (r) => (r.even() < 0.75 ? Math.log(1.3) * r.normal() : 0.81 + Math.log(1.25) * r.normal()),
  // No log-normal tail at all: by number Weibull of exponent 3.
  'Weibull 3': (r) => Math.log(-Math.log(1 - r.even())) / 3,
};
const COUNTS = [200, 300, 600, 1500] as const;
const TRIALS = 80;

/** D10, D50, D90 by volume of grounds, from a million grains. */
function truthOf(draw: (random: Dice) => number): number[] {
  const random = dice(99);
  const logs = Float64Array.from({ length: 1_000_000 }, () => draw(random)).sort();
  const volumes = logs.map((x) => Math.exp(3 * x));
  return [0.1, 0.5, 0.9].map((at) => 500 * Math.exp(weightedQuantile(logs, volumes, at)));
}

/** Shares of trials in which the bands hold D10, D50 and D90 of the grounds. */
function heldIn(count: number, draw: (random: Dice) => number, truth: readonly number[]): number[] {
  const held = [0, 0, 0];
  for (let trial = 0; trial < TRIALS; trial++) {
    const random = dice(7919 * count + trial);
    const sizes = Array.from({ length: count }, () => 500 * Math.exp(draw(random)));
    const summary = summarisePhoto(measurementOf(sizes), { runs: 150 });
    if (!summary) throw new Error('too few grains');
    [summary.d10_um, summary.d50_um, summary.d90_um].forEach(({ low, high }, k) => {
      if (low <= truth[k]! && truth[k]! <= high) held[k]! += 1 / TRIALS;
    });
  }
  return held;
}

describe.runIf(process.env.POURLINE_SLOW === '1')('bands over grains drawn again and again', () => {
  it('hold D10, D50 and D90 of the grounds in 85 to 95 %', () => {
    const all = [0, 0, 0];
    const cases = Object.keys(GROUNDS).length * COUNTS.length;
    for (const [name, draw] of Object.entries(GROUNDS)) {
      const truth = truthOf(draw);
      for (const count of COUNTS) {
        const held = heldIn(count, draw, truth);
        console.log(
          `${name.padEnd(16)}${String(count).padStart(6)} grains  ${held.map((h) => (100 * h).toFixed(0)).join(' ')} %`,
        );
        held.forEach((h, k) => {
          all[k]! += h / cases;
        });
      }
    }
    console.log(`together: ${all.map((h) => (100 * h).toFixed(1)).join(' ')} %`);
    for (const share of all) {
      expect(share).toBeGreaterThanOrEqual(0.85);
      expect(share).toBeLessThanOrEqual(0.95);
    }
  }, 600_000);
});
