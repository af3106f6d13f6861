import { normalCdf, tAbove } from './distributions.ts';

/** One category of a score sheet. */
export interface CategoryScore {
  weight: number;
  mean: number;
  sd: number;
  /** Smallest step of the scale; its rounding adds step²/12 to the variance. Left out when 0. */
  step?: number;
}

/** A total with its spread. */
export interface TotalScore {
  mean: number;
  sd: number;
}

/**
 * Total Σ w·m with standard deviation √(w′Σw) when all categories share one correlation (a good first impression lifts them all). Taking
 * them as independent understates the spread.
 */
export function totalScore(categories: readonly CategoryScore[], correlation: number): TotalScore {
  const mean = categories.reduce((t, c) => t + c.weight * c.mean, 0);
  let variance = 0;
  categories.forEach((a, i) => {
    categories.forEach((b, j) => {
      variance += a.weight * b.weight * a.sd * b.sd * (i === j ? 1 : correlation);
    });
    variance += (a.weight * (a.step ?? 0)) ** 2 / 12;
  });
  return { mean, sd: Math.sqrt(variance) };
}

/** Chance of more than `mark`; with `panels` panels behind the spread, by Student's t for a new one. */
export function chanceAbove({ mean, sd }: TotalScore, mark: number, panels?: number): number {
  if (panels === undefined) return normalCdf((mean - mark) / sd);
  return tAbove((mark - mean) / (sd * Math.sqrt(1 + 1 / panels)), panels - 1);
}

/** Chance that the first total is above the second, both independent. */
export const chanceAhead = (first: TotalScore, second: TotalScore): number =>
  normalCdf((first.mean - second.mean) / Math.hypot(first.sd, second.sd));
