import { describe, expect, it } from 'vitest';
import { power } from './power.ts';

describe('a power', () => {
  it.each([0, 1, 2, 3, 7, 8])('of a whole %s is a product', (y) => {
    for (const x of [0, 0.3, 1.7, -2]) expect(power(x, y)).toBeCloseTo(x ** y, 10);
    expect(power(2, y)).toBe(2 ** y);
  });
  it.each([110, 0.25, 1 / 6, -2 / 3, 1.81, 5.2559])(
    'to %s agrees with the one of the engine that runs it',
    (y) => {
      for (const x of [0.02, 0.5, 0.97, 1, 1.3])
        expect(Math.abs(power(x, y) / x ** y - 1)).toBeLessThan(5e-14);
    },
  );
  it('of nothing to a part of one is nothing', () => {
    expect(power(0, 0.25)).toBe(0);
  });
});
