import { plainDesign } from './factorial.ts';
import type { Design } from './types.ts';

/** Orders of conference matrices that Paley's construction gives from a prime: one more than it. */
const PRIMES = [3, 5, 7, 11, 13, 17, 19, 23];

/**
 * Conference matrix C of order q + 1, q an odd prime: zero diagonal, ±1 elsewhere, C′C = q·I. Paley 1933 (from memory): the quadratic
 * characters of differences, bordered.
 */
export function conferenceMatrix(q: number): number[][] {
  const squares = new Set(Array.from({ length: q - 1 }, (_, i) => ((i + 1) * (i + 1)) % q));
  const character = (v: number) => (v === 0 ? 0 : squares.has(v) ? 1 : -1);
  // The border is alike on both sides for a symmetric core, opposite for a skew one.
  const left = q % 4 === 1 ? 1 : -1;
  return Array.from({ length: q + 1 }, (_, i) =>
    Array.from({ length: q + 1 }, (_, j) => {
      if (i === j) return 0;
      if (i === 0) return 1;
      if (j === 0) return left;
      return character((((i - j) % q) + q) % q);
    }),
  );
}

/**
 * Definitive screening design (Jones & Nachtsheim 2011, from memory): the rows of a conference matrix, their mirror images, and the centre.
 * Main effects are clear of all squares and two-factor products. 3 to 24 factors; where there is no matrix of that order the next larger
 * one loses columns, at the price of a few more runs.
 */
export function definitiveScreening(k: number, centres = 1): Design {
  const q = PRIMES.find((prime) => prime + 1 >= k)!;
  const half = conferenceMatrix(q).map((row) => row.slice(0, k));
  const points = half.flatMap((row) => [row, row.map((v) => (v === 0 ? 0 : -v))]);
  const middle = Array.from({ length: centres }, () => new Array<number>(k).fill(0));
  return plainDesign('definitive_screening', [...points, ...middle], centres);
}
