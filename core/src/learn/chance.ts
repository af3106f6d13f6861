import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { normalQuantile } from '../grind/special.ts';

/** A source of chance: the same seed gives the same numbers everywhere. */
export interface Dice {
  /** Above 0 and below 1. */
  uniform(): number;
  /** A whole number from 0, below n. */
  below(n: number): number;
  normal(): number;
  /** Student's t with ν degrees of freedom. */
  student(nu: number): number;
}

const STEPS = 2 ** 32;

/** Chance from a seed, a whole number. */
export function diceFrom(seed: number): Dice {
  const generator = xoroshiro128plus(seed);
  const uniform = () => ((generator.next() >>> 0) + 0.5) / STEPS;
  const normal = () => normalQuantile(uniform());
  return {
    uniform,
    below: (n) => Math.floor(uniform() * n),
    normal,
    student(nu) {
      let chi2 = 0;
      for (let i = 0; i < nu; i++) chi2 += normal() ** 2;
      return normal() / Math.sqrt(chi2 / nu);
    },
  };
}
