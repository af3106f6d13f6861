import {
  binomialAtLeast,
  binomialAtMost,
  binomialMass,
  chiSquaredAbove,
  normalCdf,
} from './distributions.ts';
import { correctFrom, guessOf, type Protocol } from './protocols.ts';

/** Which tails count: the direction of a paired test is known beforehand, or it is not. */
export type Sides = 'one' | 'two';

/** Right answers of a test of difference. */
export interface Answers {
  protocol: Protocol;
  correct: number;
  total: number;
}

/**
 * Exact chance of `correct` or more right answers of `total` when every one is a guess. Two-sided (paired test only): the larger
 * count of both directions, both tails. Binomial distribution; ISO 4120, 10399, 5495 (from memory).
 */
export function differenceP({ protocol, correct, total }: Answers, sides: Sides = 'one'): number {
  const guess = guessOf(protocol);
  if (sides === 'one') return binomialAtLeast(correct, total, guess);
  return Math.min(1, 2 * binomialAtLeast(Math.max(correct, total - correct), total, guess));
}

/**
 * Exact chance of `correct` or fewer right answers when a share `pd` of tasters tells the cups apart. Small means: fewer than
 * that share does.
 */
export const similarityP = ({ protocol, correct, total }: Answers, pd: number): number =>
  binomialAtMost(correct, total, correctFrom(pd, protocol));

/**
 * Fewest right answers of `total` with which a difference is shown at level `alpha`; null when not even all right answers are
 * enough. Two-sided: alpha/2 in each tail, the count is that of the direction chosen more often.
 */
export function criticalDifference(
  protocol: Protocol,
  total: number,
  alpha: number,
  sides: Sides = 'one',
): number | null {
  const level = sides === 'two' ? alpha / 2 : alpha;
  const found = firstWhere(0, total + 1, (x) => binomialAtLeast(x, total, guessOf(protocol)) <= level);
  return found > total ? null : found;
}

/**
 * Most right answers of `total` with which it is shown, at level `beta`, that fewer than a share `pd` of tasters tells the cups
 * apart; null when not even none is few enough.
 */
export function criticalSimilarity(
  protocol: Protocol,
  total: number,
  pd: number,
  beta: number,
): number | null {
  const pc = correctFrom(pd, protocol);
  const beyond = firstWhere(0, total, (x) => binomialAtMost(x, total, pc) > beta);
  return beyond === 0 ? null : beyond - 1;
}

/** Smallest whole number in [low, high] from which a condition holds; the condition, once true, stays true. */
function firstWhere(low: number, high: number, holds: (x: number) => boolean): number {
  let [a, b] = [low, high];
  while (a < b) {
    const middle = (a + b) >> 1;
    if (holds(middle)) b = middle;
    else a = middle + 1;
  }
  return a;
}

/**
 * Fewest answers with which a difference can be shown at all at level `alpha`: with fewer, even all right answers prove nothing.
 */
export function fewestAnswers(protocol: Protocol, alpha: number, sides: Sides = 'one'): number {
  const level = sides === 'two' ? alpha / 2 : alpha;
  const least = Math.max(1, Math.ceil(Math.log(level) / Math.log(guessOf(protocol)) - 1e-9));
  return least;
}

/** Other statistics of the same answers, labelled; for comparison with other programs. The exact p decides. */
export interface OtherTests {
  /** Signed root of the likelihood ratio against guessing, and its upper normal tail. */
  likelihood: { root: number; p: number };
  /** Pearson's X² without continuity correction, and the upper tail of its signed root. */
  score: { chiSquared: number; p: number };
  /** (pc − guess)/SE, and its upper normal tail; null when every answer is right or none. */
  wald: { z: number; p: number } | null;
}

/** Likelihood, score and Wald tests against guessing. Approximate; see `differenceP` for the exact test. */
export function otherTests({ protocol, correct, total }: Answers): OtherTests {
  const guess = guessOf(protocol);
  const pc = Math.max(guess, correct / total);
  const logLikelihood = (p: number) => Math.log(binomialMass(correct, total, p));
  const root = Math.sqrt(Math.max(0, 2 * (logLikelihood(pc) - logLikelihood(guess))));
  const z = (correct - total * guess) / Math.sqrt(total * guess * (1 - guess));
  const se = Math.sqrt((pc * (1 - pc)) / total);
  const wald = (pc - guess) / se;
  return {
    likelihood: { root, p: normalCdf(-root) },
    score: { chiSquared: z * z, p: z > 0 ? chiSquaredAbove(z * z, 1) / 2 : normalCdf(-z) },
    wald: se > 0 ? { z: wald, p: normalCdf(-wald) } : null,
  };
}
