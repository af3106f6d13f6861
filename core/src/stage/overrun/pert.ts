import { normalCdf, normalDensity } from '../../panel/distributions.ts';
import { chanceFrom } from '../../panel/random.ts';
import { beta } from './chance-values.ts';

/** Three guesses of how long something takes [s]: at best, mostly, at worst. */
export interface ThreePoint {
  best: number;
  mostly: number;
  worst: number;
}

/** Mean (a + 4m + b)/6, the classic spread (b − a)/6 and the exact one of the beta distribution behind it, √((μ − a)(b − μ)/7). */
export function pertMoments({ best, mostly, worst }: ThreePoint): {
  mean: number;
  sd: number;
  exactSd: number;
} {
  const mean = (best + 4 * mostly + worst) / 6;
  return { mean, sd: (worst - best) / 6, exactSd: Math.sqrt(((mean - best) * (worst - mean)) / 7) };
}

/** Sum of independent guesses one after another. */
export function pertChain(chain: readonly ThreePoint[]): { mean: number; sd: number; exactSd: number } {
  const moments = chain.map(pertMoments);
  const sum = (of: (m: (typeof moments)[number]) => number): number => moments.reduce((t, m) => t + of(m), 0);
  return {
    mean: sum((m) => m.mean),
    sd: Math.sqrt(sum((m) => m.sd ** 2)),
    exactSd: Math.sqrt(sum((m) => m.exactSd ** 2)),
  };
}

/** Share of `draws` chains that take longer than `limit`; beta shapes 1 + 4(m − a)/(b − a) and 1 + 4(b − m)/(b − a). */
export function pertOver(chain: readonly ThreePoint[], limit: number, draws: number, seed: number): number {
  const chance = chanceFrom(seed);
  let over = 0;
  for (let n = 0; n < draws; n++) {
    let sum = 0;
    for (const { best, mostly, worst } of chain) {
      const width = worst - best;
      if (width <= 0) sum += best;
      else
        sum +=
          best + width * beta(chance, 1 + (4 * (mostly - best)) / width, 1 + (4 * (worst - mostly)) / width);
    }
    if (sum > limit) over++;
  }
  return over / draws;
}

/** Mean and spread of the later of two independent normal ends (Clark 1961): two strands that meet end later than either on average. */
export function laterOfTwo(
  a: { mean: number; sd: number },
  b: { mean: number; sd: number },
): { mean: number; sd: number } {
  const theta = Math.hypot(a.sd, b.sd);
  if (theta === 0) return { mean: Math.max(a.mean, b.mean), sd: 0 };
  const alpha = (a.mean - b.mean) / theta;
  const first = normalCdf(alpha);
  const mean = a.mean * first + b.mean * (1 - first) + theta * normalDensity(alpha);
  const square =
    (a.mean ** 2 + a.sd ** 2) * first +
    (b.mean ** 2 + b.sd ** 2) * (1 - first) +
    (a.mean + b.mean) * theta * normalDensity(alpha);
  return { mean, sd: Math.sqrt(Math.max(0, square - mean ** 2)) };
}
