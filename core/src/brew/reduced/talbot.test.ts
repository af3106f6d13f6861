import { describe, expect, it } from 'vitest';
import {
  add,
  type Complex,
  complex,
  cothExcess,
  divide,
  exponential,
  multiply,
  scale,
  squareRoot,
} from './complex.ts';
import { invertLaplace } from './talbot.ts';

const one = complex(1);
const inverse = (s: Complex): Complex => divide(one, s);

/** Transforms whose originals stand in every table. */
const PAIRS: readonly { name: string; F: (s: Complex) => Complex; f: (t: number) => number }[] = [
  { name: '1/s', F: inverse, f: () => 1 },
  { name: '1/(s + 2)', F: (s) => inverse(add(s, complex(2))), f: (t) => Math.exp(-2 * t) },
  { name: '1/s²', F: (s) => inverse(multiply(s, s)), f: (t) => t },
  { name: '1/√s', F: (s) => inverse(squareRoot(s)), f: (t) => 1 / Math.sqrt(Math.PI * t) },
  {
    name: 'e^(−√s)',
    F: (s) => exponential(scale(squareRoot(s), -1)),
    f: (t) => Math.exp(-1 / (4 * t)) / (2 * Math.sqrt(Math.PI) * t ** 1.5),
  },
];

describe('inverse Laplace transform', () => {
  it.each(PAIRS)('of $name is its original', ({ F, f }) => {
    for (const t of [0.05, 0.3, 1, 7, 40])
      expect(Math.abs(invertLaplace(F, t) - f(t))).toBeLessThan(1e-7 * (1 + f(t)));
  });
  it('refuses a time that is not after zero', () => {
    expect(() => invertLaplace(inverse, 0)).toThrow('greater than 0, got 0');
  });
});

describe('z coth z − 1', () => {
  it('joins its series without a step', () => {
    const z = 0.0316;
    const direct = (z * Math.cosh(z)) / Math.sinh(z) - 1;
    expect(cothExcess(complex(z)).re).toBeCloseTo(direct, 11);
    expect(cothExcess(complex(z * 1.001)).re / cothExcess(complex(z)).re).toBeCloseTo(1.001 ** 2, 6);
  });
  it('does not overflow for a large argument', () => {
    expect(cothExcess(complex(900)).re).toBeCloseTo(899, 9);
  });
});
