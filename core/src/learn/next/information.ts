import { LuDecomposition, Matrix } from 'ml-matrix';
import type { InformationQuestion } from './types.ts';

/**
 * What a candidate brew would teach, before it is made: the mutual information between what is believed and what would be measured, for figures
 * near normal: ½ log₂ |I + C R⁻¹|, C the covariance of the predictions over the draws, R the noise. Lindley 1956, for the linear normal case
 * exact (from memory). A candidate whose figures every draw predicts alike teaches nothing.
 */
export function expectedInformation({ predictions, noise, grams }: InformationQuestion): {
  bits: number[];
  bits_per_gram: number[];
  best: number;
} {
  const bits = predictions.map((draws) => bitsOf(draws, noise));
  const perGram = bits.map((v, i) => v / Math.max(1e-9, grams[i] ?? 1));
  const best = perGram.reduce((b, v, i) => (v > perGram[b]! ? i : b), 0);
  return { bits, bits_per_gram: perGram, best };
}

function bitsOf(draws: readonly (readonly number[])[], noise: readonly number[]): number {
  const k = noise.length;
  // A draw without one of the figures (no drawdown before the lift) cannot be compared on it.
  const whole = draws.filter((draw) => draw.every(Number.isFinite));
  if (whole.length < 2) return 0;
  const scaled = whole.map((draw) => draw.map((v, f) => v / noise[f]!));
  const mean = Array.from(
    { length: k },
    (_, f) => scaled.reduce((t, draw) => t + draw[f]!, 0) / scaled.length,
  );
  const inner = Matrix.eye(k, k);
  for (const draw of scaled)
    for (let i = 0; i < k; i++)
      for (let j = 0; j < k; j++)
        inner.set(
          i,
          j,
          inner.get(i, j) + ((draw[i]! - mean[i]!) * (draw[j]! - mean[j]!)) / (scaled.length - 1),
        );
  return 0.5 * Math.log2(new LuDecomposition(inner).determinant);
}
