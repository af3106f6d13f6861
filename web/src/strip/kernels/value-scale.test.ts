import { describe, expect, it } from 'vitest';
import {
  clockDigits,
  decimalsOf,
  marksOf,
  niceStep,
  scaleOver,
  shareOf,
  steadyScale,
} from './value-scale.ts';

describe('value scales', () => {
  it('choose round steps', () => {
    expect(niceStep(9, 4)).toBe(2.5);
    expect(niceStep(200, 4)).toBe(50);
    expect(niceStep(0.9, 3)).toBe(0.5);
    expect(niceStep(0, 3)).toBe(1);
    expect(niceStep(Number.NaN, 3)).toBe(1);
  });

  it('reach the data and end on a mark', () => {
    const scale = scaleOver(0, 7.3, 4);
    expect(scale).toEqual({ low: 0, high: 8, step: 2 });
    expect(marksOf(scale)).toEqual([0, 2, 4, 6, 8]);
    expect(shareOf(scale, 4)).toBe(0.5);
  });

  it('stay put while the data still fits, so that nothing jumps under a finger', () => {
    const first = scaleOver(0, 7.3, 4);
    expect(steadyScale(first, 0, 6, 4)).toBe(first);
    expect(steadyScale(first, 0, 8, 4).high).toBeGreaterThanOrEqual(8);
    expect(steadyScale(first, 0, 1, 4).high).toBe(1);
  });
});

describe('decimals of marks', () => {
  it('are as many as tell the marks apart', () => {
    expect([1, 2.5, 0.5, 0.25, 10].map(decimalsOf)).toEqual([0, 1, 1, 2, 0]);
  });

  it('show tenths of a second only where there are some', () => {
    expect([30, 7.5, 7.04, Number.NaN].map(clockDigits)).toEqual([0, 1, 0, 0]);
  });
});
