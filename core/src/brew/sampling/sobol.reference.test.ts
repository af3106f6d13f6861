/** The Sobol sequence against an independent implementation, and what scrambling must keep. */
import { describe, expect, it } from 'vitest';
import known from '../../../../reference/joe-kuo-2008/points.json' with { type: 'json' };
import { MAX_DIMENSIONS, sobolPoints } from './sobol.ts';

describe('the plain sequence (Joe and Kuo 2008, as SciPy 1.17.1 gives it; reference/joe-kuo-2008)', () => {
  const dimensions = Math.max(...known.dimensions);
  const points = sobolPoints(1024, dimensions, null);
  it.each(known.points)('point $index', ({ index, x }) => {
    expect(known.dimensions.map((d) => points[index * dimensions + d - 1])).toEqual(x);
  });
});

describe('the scrambled sequence', () => {
  const count = 64;
  const dimensions = 120;
  const points = sobolPoints(count, dimensions, 7);
  it('has one point in each of 64 slices of every dimension', () => {
    for (let d = 0; d < dimensions; d++) {
      const slices = new Set(
        Array.from({ length: count }, (_, i) => Math.floor(points[i * dimensions + d]! * count)),
      );
      expect(slices.size).toBe(count);
    }
  });
  it('has one point in each of 8 × 8 cells of the first two dimensions, which are a (0, m, 2)-net', () => {
    const cells = new Set(
      Array.from(
        { length: count },
        (_, i) => Math.floor(points[i * dimensions]! * 8) * 8 + Math.floor(points[i * dimensions + 1]! * 8),
      ),
    );
    expect(cells.size).toBe(count);
  });
  it('lies within the cube, differs by seed, and is the same for the same seed', () => {
    expect(points.every((x) => x > 0 && x < 1)).toBe(true);
    expect(sobolPoints(count, dimensions, 7)).toEqual(points);
    expect(sobolPoints(count, dimensions, 8)).not.toEqual(points);
  });
  it('integrates a smooth product far better than independent points would', () => {
    // ∏ (1 + (x − ½)) over five dimensions has mean 1; 1024 independent points err by about 0.02.
    const n = 1024;
    for (const seed of [1, 2, 3]) {
      const p = sobolPoints(n, 5, seed);
      let sum = 0;
      for (let i = 0; i < n; i++) {
        let product = 1;
        for (let d = 0; d < 5; d++) product *= 0.5 + p[i * 5 + d]!;
        sum += product;
      }
      expect(Math.abs(sum / n - 1)).toBeLessThan(1e-3);
    }
  });
  it('says so when asked for more dimensions than it has', () => {
    expect(() => sobolPoints(2, MAX_DIMENSIONS + 1, 1)).toThrow(RangeError);
  });
});
