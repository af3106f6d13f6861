import { normalQuantile } from '../../panel/distributions.ts';
import { chanceFrom } from '../../panel/random.ts';

const CELLS = 2 ** 31;

/** Standard normal numbers from a seed, by the inverse of the distribution function. */
export function normalsFrom(seed: number): () => number {
  const chance = chanceFrom(seed);
  return () => normalQuantile((chance.whole(0, CELLS - 1) + 0.5) / CELLS);
}
