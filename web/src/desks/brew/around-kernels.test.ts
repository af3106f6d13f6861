import { describe, expect, it } from 'vitest';
import { coursePath, rangeOf, ticks } from './around-kernels.ts';

describe('ticks', () => {
  it('are round, lie within the range and are not too many', () => {
    expect(ticks(0, 30, [1, 5, 10], 6)).toEqual([0, 10, 20, 30]);
    expect(ticks(0, 30, [1, 5, 10], 7)).toEqual([0, 5, 10, 15, 20, 25, 30]);
    expect(ticks(86.2, 97, [1, 2, 5], 4)).toEqual([90, 95]);
    expect(ticks(-3, 3, [2], 9)).toEqual([-2, 0, 2]);
  });
  it('take the largest step when there are too many even so', () => {
    expect(ticks(0, 100, [1, 10], 3)).toHaveLength(11);
  });
  it('are none in a range that is none', () => {
    expect(ticks(5, 4, [1], 3)).toEqual([]);
    expect(ticks(Number.NaN, 4, [1], 3)).toEqual([]);
  });
});

describe('a course as a path', () => {
  it('keeps its ends and thins what lies too close', () => {
    const time = Float64Array.from({ length: 101 }, (_, i) => i / 10);
    const path = coursePath(
      { time, temperature_C: time.map((t) => 100 - t) },
      (t) => t,
      (T) => 100 - T,
    );
    expect(path.startsWith('M0.0 0.0L')).toBe(true);
    expect(path.endsWith('L10.0 10.0')).toBe(true);
    expect(path.split('L')).toHaveLength(21);
  });
});

describe('a range', () => {
  it('reaches to whole steps and is never empty', () => {
    expect(rangeOf([[87.3, 95], [91]], 2)).toEqual({ low: 86, high: 96 });
    expect(rangeOf([[90]], 5)).toEqual({ low: 90, high: 95 });
    expect(rangeOf([], 5)).toEqual({ low: 0, high: 5 });
  });
});
