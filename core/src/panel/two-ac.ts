import type { ConfidenceInterval } from './d-prime.ts';
import { binomialAtLeast, normalCdf, normalQuantile } from './distributions.ts';
import { curvature, findPeak, findRoot } from './optimise.ts';

/** Answers to pairs in which "no difference" is allowed. */
export interface PairAnswers {
  prefers_first: number;
  no_difference: number;
  prefers_second: number;
}

/** Result of a pair test with a "no difference" answer. */
export interface TwoAc {
  /** Half the width of what is called no difference, in standard deviations; null when it has no finite best value. */
  border: number | null;
  border_se: number | null;
  /** d′ toward the second; ±∞ when nobody preferred the other. */
  d_prime: number;
  d_prime_se: number | null;
  /** Signed root of the likelihood ratio against d′ = 0, and its two-sided p (approximate). */
  root: number;
  p: number;
  /** Exact two-sided sign test of those who had a preference; 1 when nobody had. */
  sign_p: number;
  /** Profile-likelihood interval of d′. */
  interval: ConfidenceInterval;
}

const FAR = 12;

/** Log-likelihood of the three counts at a border and a d′. */
function logLikelihood(of: PairAnswers, border: number, d: number): number {
  const first = normalCdf((-border - d) / Math.SQRT2);
  const second = normalCdf((d - border) / Math.SQRT2);
  const term = (count: number, p: number) => (count === 0 ? 0 : count * Math.log(Math.max(p, 1e-300)));
  return (
    term(of.prefers_first, first) +
    term(of.no_difference, 1 - first - second) +
    term(of.prefers_second, second)
  );
}

/**
 * Paired test with a "no difference" answer (2-AC): d′ and the border of "no difference" by maximum likelihood. With
 * z₁ = Φ⁻¹(p first), z₂ = Φ⁻¹(p first + p none): border (z₂ − z₁)/√2, d′ −(z₁ + z₂)/√2; Christensen, Lee & Brockhoff 2012 (from
 * memory). Errors are null when a count is 0.
 */
export function twoAc(of: PairAnswers, level = 0.95): TwoAc {
  const { prefers_first: first, no_difference: none, prefers_second: second } = of;
  const total = first + none + second;
  const z1 = normalQuantile(first / total);
  const z2 = normalQuantile((first + none) / total);
  const regular = first > 0 && second > 0;
  const border = regular ? (z2 - z1) / Math.SQRT2 : null;
  const d = regular
    ? -(z1 + z2) / Math.SQRT2
    : first === second
      ? 0
      : (second - first) * Number.POSITIVE_INFINITY;
  const errors = border !== null && none > 0 ? standardErrors(of, border, d) : null;
  const best = (at: number) =>
    logLikelihood(
      of,
      findPeak((t) => logLikelihood(of, t, at), 0, FAR + Math.abs(at)),
      at,
    );
  // Two parameters and two free shares: the best fit meets the shares themselves.
  const top = [first, none, second].reduce((sum, x) => sum + (x > 0 ? x * Math.log(x / total) : 0), 0);
  const root = Math.sign(d) * Math.sqrt(Math.max(0, 2 * (top - best(0))));
  const z = -normalQuantile((1 - level) / 2);
  const drop = (at: number) => top - best(at) - (z * z) / 2;
  const near = Math.min(FAR, Math.max(-FAR, d));
  const decided = first + second;
  return {
    border,
    border_se: errors?.[0] ?? null,
    d_prime: d,
    d_prime_se: errors?.[1] ?? null,
    root,
    p: 2 * normalCdf(-Math.abs(root)),
    sign_p: Math.min(1, 2 * binomialAtLeast(Math.max(first, second), decided, 0.5)),
    interval: {
      low: drop(-FAR) < 0 ? Number.NEGATIVE_INFINITY : findRoot(drop, -FAR, near, 1e-9),
      high: drop(FAR) < 0 ? Number.POSITIVE_INFINITY : findRoot(drop, near, FAR, 1e-9),
    },
  };
}

function standardErrors(of: PairAnswers, border: number, d: number): [number, number] {
  const h = curvature((x) => logLikelihood(of, x[0]!, x[1]!), [border, d]);
  const det = h[0]![0]! * h[1]![1]! - h[0]![1]! ** 2;
  return [Math.sqrt(-h[1]![1]! / det), Math.sqrt(-h[0]![0]! / det)];
}
