import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A source of chance that gives the same run for the same seed, everywhere. */
export interface Chance {
  /** A whole number from low to high, both included, each equally likely. */
  whole(low: number, high: number): number;
  /** Puts the entries of a list into a random order, in place, every order equally likely (Fisher & Yates). */
  shuffle<T>(list: T[]): T[];
}

/** Chance from a seed, a whole number. */
export function chanceFrom(seed: number): Chance {
  const generator = xoroshiro128plus(seed);
  const whole = (low: number, high: number) => uniformInt(generator, low, high);
  return {
    whole,
    shuffle(list) {
      for (let i = list.length - 1; i > 0; i--) {
        const j = whole(0, i);
        [list[i], list[j]] = [list[j]!, list[i]!];
      }
      return list;
    },
  };
}
