import type { Answers } from './difference-test.ts';
import { betaQuantile, binomialMass, chiSquaredAbove, normalQuantile } from './distributions.ts';
import { findRoot } from './optimise.ts';
import { discriminatorsFrom, guessOf, type Protocol } from './protocols.ts';
import { dPrimeFrom, slopeCorrect } from './psychometric.ts';

/** How an interval was made. */
export type IntervalKind =
  /** Clopper & Pearson 1934: never covers less than it says. */
  | 'exact'
  /** All values whose likelihood is not much smaller than the largest. */
  | 'likelihood'
  /** Wilson 1927, without continuity correction. */
  | 'score'
  /** Wilson's interval with continuity correction, which some programs print as "score". */
  | 'score_corrected';
/** All kinds of interval. */
export const INTERVAL_KINDS: readonly IntervalKind[] = ['exact', 'likelihood', 'score', 'score_corrected'];

/** Both ends of an interval. */
export interface ConfidenceInterval {
  low: number;
  high: number;
}

/** A figure with its standard error; the error is null where it does not exist, at the edge. */
export interface EstimateWithError {
  value: number;
  se: number | null;
}

/** What a test of difference says about the size of the difference. */
export interface Difference {
  /** Share of right answers, not below guessing. */
  correct: EstimateWithError;
  /** Share of tasters who tell the cups apart. */
  discriminators: EstimateWithError;
  /** d′, in standard deviations of what a taster perceives; ∞ when every answer is right. */
  d_prime: EstimateWithError;
  interval: {
    kind: IntervalKind;
    level: number;
    correct: ConfidenceInterval;
    discriminators: ConfidenceInterval;
    d_prime: ConfidenceInterval;
  };
}

/** ConfidenceInterval of a share of right answers, before it is cut at guessing. */
export function shareInterval(
  correct: number,
  total: number,
  level: number,
  kind: IntervalKind,
): ConfidenceInterval {
  const tail = (1 - level) / 2;
  if (kind === 'exact')
    return {
      low: correct === 0 ? 0 : betaQuantile(tail, correct, total - correct + 1),
      high: correct === total ? 1 : betaQuantile(1 - tail, correct + 1, total - correct),
    };
  const z = -normalQuantile(tail);
  if (kind === 'likelihood') return likelihoodInterval(correct, total, z);
  return wilsonInterval(correct, total, z, kind === 'score_corrected' ? 0.5 : 0);
}

/** Wilson's interval: the shares that a score test, its distance cut by `correction`, does not refuse. */
function wilsonInterval(correct: number, total: number, z: number, correction: number): ConfidenceInterval {
  const end = (x: number, sign: number) => {
    const p = x / total;
    return (
      (p + (z * z) / (2 * total) + sign * z * Math.sqrt((p * (1 - p)) / total + (z / (2 * total)) ** 2)) /
      (1 + (z * z) / total)
    );
  };
  return {
    low: correct === 0 ? 0 : end(Math.max(0, correct - correction), -1),
    high: correct === total ? 1 : end(Math.min(total, correct + correction), 1),
  };
}

function likelihoodInterval(correct: number, total: number, z: number): ConfidenceInterval {
  const top = Math.log(binomialMass(correct, total, correct / total));
  const drop = (p: number) => top - Math.log(binomialMass(correct, total, p)) - (z * z) / 2;
  const share = correct / total;
  return {
    low: correct === 0 ? 0 : findRoot(drop, 1e-300, share),
    high: correct === total ? 1 : findRoot(drop, share, 1 - 1e-16),
  };
}

/**
 * Size of a difference: share correct, share of discriminators and d′, each with its standard error (delta method) and interval.
 * The interval is made for the share correct, cut at guessing, and carried over, so it is never d′ ± a multiple of its error.
 */
export function estimateDifference(answers: Answers, level = 0.95, kind: IntervalKind = 'exact'): Difference {
  const { protocol, correct, total } = answers;
  const guess = guessOf(protocol);
  const pc = Math.max(guess, correct / total);
  const inside = correct / total > guess && correct < total;
  const se = inside ? Math.sqrt((pc * (1 - pc)) / total) : null;
  const d = dPrimeFrom(pc, protocol);
  const raw = shareInterval(correct, total, level, kind);
  const cut = { low: Math.max(guess, raw.low), high: Math.max(guess, raw.high) };
  const carried = (f: (p: number) => number): ConfidenceInterval => ({ low: f(cut.low), high: f(cut.high) });
  return {
    correct: { value: pc, se },
    discriminators: { value: discriminatorsFrom(pc, protocol), se: se === null ? null : se / (1 - guess) },
    d_prime: { value: d, se: se === null ? null : se / slopeCorrect(d, protocol) },
    interval: {
      kind,
      level,
      correct: cut,
      discriminators: carried((p) => discriminatorsFrom(p, protocol)),
      d_prime: carried((p) => dPrimeFrom(p, protocol)),
    },
  };
}

/** Several estimates of d′ held against each other. */
export interface DPrimeComparison {
  /** Common d′, weighted by 1/SE². */
  common: EstimateWithError;
  /** Σ (d′ᵢ − common)²/SEᵢ², its degrees of freedom and the chance of as much when all are equal. */
  chiSquared: number;
  df: number;
  p: number;
}

/**
 * Whether the d′ of several tests, which may be of different protocols, differ at all; null when fewer than two have a standard
 * error. Approximate (Wald); weights 1/SE².
 */
export function compareDifferences(tests: readonly Answers[]): DPrimeComparison | null {
  const found = tests
    .map((test) => estimateDifference(test).d_prime)
    .filter((d): d is { value: number; se: number } => d.se !== null);
  if (found.length < 2) return null;
  const weights = found.map(({ se }) => 1 / (se * se));
  const sum = weights.reduce((a, b) => a + b, 0);
  const common = found.reduce((total, { value }, i) => total + weights[i]! * value, 0) / sum;
  const chiSquared = found.reduce((total, { value }, i) => total + weights[i]! * (value - common) ** 2, 0);
  const df = found.length - 1;
  return {
    common: { value: common, se: 1 / Math.sqrt(sum) },
    chiSquared,
    df,
    p: chiSquaredAbove(chiSquared, df),
  };
}

/** d′ that a share of discriminators means in a protocol: the border of a similarity test. */
export const dPrimeOfLimit = (pd: number, protocol: Protocol): number =>
  dPrimeFrom(guessOf(protocol) + pd * (1 - guessOf(protocol)), protocol);
