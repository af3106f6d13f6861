import { normalCdf, normalQuantile } from './distributions.ts';
import { fisherAtLeast } from './fisher.ts';
import { findRoot } from './optimise.ts';

/** Answers "the same" and "different" to pairs that were the same and pairs that were different. */
export interface SameDifferentAnswers {
  same_of_same: number;
  different_of_same: number;
  same_of_different: number;
  different_of_different: number;
}

/** Result of a same–different test. */
export interface SameDifferent {
  /** How far apart two cups must be perceived to be called different; null when no pair, or every pair, of equal cups was called the same. */
  border: number | null;
  /** d′ between the cups; null when there is no border, ∞ when every pair of different cups was told. */
  d_prime: number | null;
  /** Exact chance of as many "different" of different pairs or more, when the answers have nothing to do with the pairs (Fisher). */
  p: number;
}

/**
 * Same–different test: border τ from P(same | same) = 2Φ(τ/√2) − 1, then d′ from
 * P(same | different) = Φ((τ − δ)/√2) − Φ((−τ − δ)/√2). Source: sensR (samediff).
 */
export function sameDifferent(of: SameDifferentAnswers): SameDifferent {
  const ofSame = of.same_of_same + of.different_of_same;
  const ofDifferent = of.same_of_different + of.different_of_different;
  const p = fisherAtLeast(of.different_of_different, ofDifferent, of.different_of_same, ofSame);
  const called = of.same_of_same / ofSame;
  if (called <= 0 || called >= 1) return { border: null, d_prime: null, p };
  const border = Math.SQRT2 * normalQuantile((1 + called) / 2);
  const missed = of.same_of_different / ofDifferent;
  const same = (d: number) => normalCdf((border - d) / Math.SQRT2) - normalCdf((-border - d) / Math.SQRT2);
  let d = 0;
  if (missed <= 0) d = Number.POSITIVE_INFINITY;
  else if (missed < same(0)) d = findRoot((x) => same(x) - missed, 0, 20 + border);
  return { border, d_prime: d, p };
}
