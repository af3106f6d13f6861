import { logChoose } from './distributions.ts';

/**
 * Fisher's exact test, one-sided: chance of at least `a` in the first cell of a 2 × 2 table with these margins, when both rows share one
 * chance. Rows (a of n1) and (b of n2).
 */
export function fisherAtLeast(a: number, n1: number, b: number, n2: number): number {
  const columns = a + b;
  let sum = 0;
  for (let x = a; x <= Math.min(n1, columns); x++) sum += hypergeometric(x, n1, n2, columns);
  return Math.min(1, sum);
}

/** Fisher's exact test, two-sided: all tables that are no more likely than the one seen. */
export function fisherTwoSided(a: number, n1: number, b: number, n2: number): number {
  const columns = a + b;
  const seen = hypergeometric(a, n1, n2, columns);
  let sum = 0;
  for (let x = Math.max(0, columns - n2); x <= Math.min(n1, columns); x++) {
    const p = hypergeometric(x, n1, n2, columns);
    // Equal chances may differ in their last digits.
    if (p <= seen * (1 + 1e-7)) sum += p;
  }
  return Math.min(1, sum);
}

const hypergeometric = (x: number, n1: number, n2: number, columns: number): number =>
  Math.exp(logChoose(n1, x) + logChoose(n2, columns - x) - logChoose(n1 + n2, columns));
