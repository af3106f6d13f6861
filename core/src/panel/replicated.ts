import type { EstimateWithError } from './d-prime.ts';
import { binomialMass, chiSquaredAbove } from './distributions.ts';
import { climb, curvature } from './optimise.ts';
import { guessOf, type Protocol } from './protocols.ts';
import { dPrimeFrom, slopeCorrect } from './psychometric.ts';

/** Right answers of one taster in several repeats of one test. */
export interface Repeats {
  correct: number;
  total: number;
}

/** Replicated tests of several tasters, who may differ. */
export interface Replicated {
  /** Mean share of discriminators (corrected for guessing) or of right answers (not corrected). */
  mean: EstimateWithError;
  /** How far tasters differ, from 0, all alike, to 1, each always right or always guessing. */
  spread: EstimateWithError;
  /** Mean share of right answers. */
  correct: number;
  d_prime: EstimateWithError;
  logLikelihood: number;
  /** Against tasters who are all alike: G² and its p. The value 0 lies at the edge, so half the tail of χ² with 1 df. */
  alike: { gSquared: number; p: number; unhalved_p: number };
  /** Against guessing by all: G² and its p (2 df, not halved: on the safe side). */
  guessing: { gSquared: number; p: number };
}

/** ln x(x+1)…(x+k−1) for k = 0 … most. */
function risingLogs(x: number, most: number): Float64Array {
  const logs = new Float64Array(most + 1);
  for (let k = 1; k <= most; k++) logs[k] = logs[k - 1]! + Math.log(x + k - 1);
  return logs;
}

/**
 * Log-likelihood of all tasters, of a beta-binomial with mean and spread; guessing mixed in when `guess` is above 0: a sum over how many of the
 * right answers were known and not guessed (sensR man/betabin.Rd). Ratios of beta functions are built from rising factorials, because
 * differences of ln Γ lose all figures when the spread is small.
 */
function logLikelihood(data: readonly Repeats[], mean: number, spread: number, guess: number): number {
  const size = 1 / spread - 1;
  const most = data.reduce((t, d) => Math.max(t, d.total), 0);
  const a = risingLogs(mean * size, most);
  const b = risingLogs((1 - mean) * size, most);
  const both = risingLogs(size, most);
  const factorial = risingLogs(1, most);
  const choose = (n: number, k: number) => factorial[n]! - factorial[k]! - factorial[n - k]!;
  let sum = 0;
  for (const { correct, total } of data) {
    const wrong = total - correct;
    let likelihood = 0;
    for (let known = guess === 0 ? correct : 0; known <= correct; known++) {
      const guessed = correct - known;
      const mixed = guess === 0 ? 0 : (wrong + known) * Math.log1p(-guess) + guessed * Math.log(guess);
      likelihood += Math.exp(choose(correct, known) + mixed + a[known]! + b[wrong]! - both[known + wrong]!);
    }
    sum += choose(total, correct) + Math.log(likelihood);
  }
  return sum;
}

const inside = (x: number) => 1 / (1 + Math.exp(-x));
/** Farthest that a mean or a spread is looked for, on the logit scale. */
const FARTHEST = 14;

/**
 * Replicated tests by the chance-corrected (or plain) beta-binomial: mean, spread among tasters, d′ and two likelihood ratio tests.
 * Pooled answers give a valid p for a difference, but neither intervals nor similarity when tasters differ. Standard errors
 * are null when the best values lie at an edge. Source: Brockhoff 2003; sensR man/betabin.Rd.
 */
export function replicatedTest(protocol: Protocol, data: readonly Repeats[], corrected = true): Replicated {
  const base = guessOf(protocol);
  const guess = corrected ? base : 0;
  const at = (x: readonly number[]) => logLikelihood(data, inside(clamp(x[0]!)), inside(clamp(x[1]!)), guess);
  const starts = [
    [0, -1],
    [-2, -1],
    [1, 0],
  ];
  const best = starts.map((start) => climb(at, start)).reduce((p, q) => (at(q) > at(p) ? q : p));
  const [mean, spread] = [inside(clamp(best[0]!)), inside(clamp(best[1]!))];
  const errors = standardErrors(data, mean, spread, guess);
  const correct = corrected ? base + (1 - base) * mean : Math.max(base, mean);
  const d = dPrimeFrom(correct, protocol);
  const scale = corrected ? 1 - base : 1;
  const top = at(best);
  const gOver = Math.max(0, 2 * (top - binomialTop(data, base)));
  const gGuess = Math.max(0, 2 * (top - binomialAt(data, base)));
  const unhalved = chiSquaredAbove(gOver, 1);
  return {
    mean: { value: mean, se: errors?.[0] ?? null },
    spread: { value: spread, se: errors?.[1] ?? null },
    correct,
    d_prime: { value: d, se: errors && d > 0 ? (errors[0] * scale) / slopeCorrect(d, protocol) : null },
    logLikelihood: top,
    alike: { gSquared: gOver, p: gOver > 0 ? unhalved / 2 : 1, unhalved_p: unhalved },
    guessing: { gSquared: gGuess, p: chiSquaredAbove(gGuess, 2) },
  };
}

const clamp = (x: number) => Math.min(FARTHEST, Math.max(-FARTHEST, x));

const binomialAt = (data: readonly Repeats[], p: number): number =>
  data.reduce((sum, { correct, total }) => sum + Math.log(binomialMass(correct, total, p)), 0);

/** Log-likelihood when all tasters share the share of right answers that fits best, not below guessing. */
function binomialTop(data: readonly Repeats[], base: number): number {
  const correct = data.reduce((sum, d) => sum + d.correct, 0);
  const total = data.reduce((sum, d) => sum + d.total, 0);
  return binomialAt(data, Math.max(base, correct / total));
}

/** Standard errors of mean and spread from the curvature of the log-likelihood; null at an edge. */
function standardErrors(
  data: readonly Repeats[],
  mean: number,
  spread: number,
  guess: number,
): [number, number] | null {
  const room = Math.min(mean, 1 - mean, spread, 1 - spread);
  if (room < 1e-4) return null;
  const step = Math.min(1e-3, room / 10);
  const h = curvature((x) => logLikelihood(data, x[0]!, x[1]!, guess), [mean, spread], step);
  const det = h[0]![0]! * h[1]![1]! - h[0]![1]! ** 2;
  if (!(det > 0 && h[0]![0]! < 0)) return null;
  return [Math.sqrt(-h[1]![1]! / det), Math.sqrt(-h[0]![0]! / det)];
}
