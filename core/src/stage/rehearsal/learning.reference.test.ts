import { describe, expect, it } from 'vitest';
import { driftOf, learningOf } from './learning.ts';

/** Computed independently with SciPy 1.17.1 (linregress, t.ppf); the prediction interval by its textbook formula. */
describe('change over runs', () => {
  const times = [648, 637, 629, 633, 615, 618, 606, 611];

  it('has the slope, its interval and the interval of the next run', () => {
    const drift = driftOf(times)!;
    expect(drift.per_run_s).toBeCloseTo(-5.535714, 6);
    expect(drift.low_s).toBeCloseTo(-7.135582, 5);
    expect(drift.high_s).toBeCloseTo(-3.935847, 5);
    expect(drift.p).toBeCloseTo(0.00052649, 8);
    expect([drift.next_low_s, drift.next_s, drift.next_high_s].map((v) => Number(v.toFixed(4)))).toEqual([
      586.57, 599.7143, 612.8585,
    ]);
    expect(drift.verdict).toBe('shorter');
  });

  it('has the exponent of the power law with its interval', () => {
    const learning = learningOf(times)!;
    expect(learning.exponent).toBeCloseTo(0.0307988, 7);
    expect(learning.low).toBeCloseTo(0.0219312, 6);
    expect(learning.high).toBeCloseTo(0.0396663, 6);
    expect(learning.first_s).toBeCloseTo(650.502, 3);
    expect(learning.per_doubling).toBeCloseTo(0.978878, 6);
  });

  it('is as wide as three runs make it', () => {
    const drift = driftOf([600, 590, 604])!;
    expect([drift.low_s, drift.high_s].map((v) => Number(v.toFixed(3)))).toEqual([-41.743, 45.743]);
    expect(drift.p).toBeCloseTo(0.821088, 6);
    expect(drift.verdict).toBe('cannot tell');
  });
});
