import { undersizes } from './binned.ts';
import { type Fitted, fitModel, MODEL_NAMES, type ModelName, parametersOf } from './fit.ts';
import { undersize } from './model.ts';
import type { SizeData } from './size-data.ts';

/** A fit beside the others. */
export interface RankedFit extends Fitted {
  parameters: number;
  /** Akaike's criterion for shares that scatter like counts, corrected for few classes; lower is better. */
  aicc: number;
  /** Schwarz's criterion; lower is better. */
  bic: number;
  /** Akaike weight, 0–1: how far this model is to be preferred among those fitted. */
  weight: number;
  /** Largest miss of the cumulative curve at a measured limit [share], and where [m]. */
  miss: number;
  missAt: number;
  /** How much more the model misses than the scatter of the data explains, χ²/degrees of freedom, at least 1. */
  excess: number;
}

/**
 * Fits every model that the classes are enough for and ranks them, best first. The likelihood is that of `effective` independent
 * grains. Where even the richest model misses by more than those would, the misfit is taken as the scatter (quasi-likelihood, c =
 * χ²/degrees of freedom; Burnham & Anderson 2002, from memory), so that a better instrument does not call for ever more modes.
 */
export function rankModels(data: SizeData): RankedFit[] {
  const J = data.binned.limits.length;
  const fits = MODEL_NAMES.filter((name) => J >= parametersOf(name) + 1).flatMap(
    (name) => fitModel(data.binned, name) ?? [],
  );
  if (fits.length === 0) return [];
  const n = worthOf(data);
  const spare = (fit: Fitted) => J - parametersOf(fit.name);
  const richest = fits.reduce((a, b) => (spare(b) <= spare(a) ? b : a));
  const c = Math.max(1, misfit(data, richest, n) / Math.max(1, spare(richest)));
  const ranked = fits.map((fit): RankedFit => {
    const K = parametersOf(fit.name) + (c > 1 ? 1 : 0);
    const deviance = (-2 * n * fit.likelihood) / c;
    return {
      ...fit,
      parameters: parametersOf(fit.name),
      aicc: deviance + 2 * K + correction(K, J),
      bic: deviance + K * Math.log(J),
      weight: 0,
      excess: Math.max(1, misfit(data, fit, n) / Math.max(1, spare(fit))),
      ...worstMiss(data, fit),
    };
  });
  const best = Math.min(...ranked.map((fit) => fit.aicc));
  const total = ranked.reduce((sum, fit) => sum + Math.exp((best - fit.aicc) / 2), 0);
  return ranked
    .map((fit) => ({ ...fit, weight: Math.exp((best - fit.aicc) / 2) / total }))
    .sort((a, b) => a.aicc - b.aicc);
}

/** Small-sample term with the number of classes as the number of data: few classes must not pay for many modes. */
const correction = (K: number, J: number): number =>
  J > K + 1 ? (2 * K * (K + 1)) / (J - K - 1) : 4 * K * K;

/**
 * Independent grains that shares are worth when strayed openings count as scatter too: an opening off by u moves q·u of the mass
 * across it, with q the mass per ln d beside it.
 */
function worthOf(data: SizeData): number {
  const { limits, share } = data.binned;
  const below = undersizes(data.binned);
  let scatter = 0;
  let unit = 0;
  for (let j = 1; j < limits.length - 1; j++) {
    const q = (share[j]! + share[j + 1]!) / Math.log(limits[j + 1]! / limits[j - 1]!);
    scatter += (q * data.limitDoubt[j]!) ** 2 + (below[j]! * (1 - below[j]!)) / data.effective;
    unit += below[j]! * (1 - below[j]!);
  }
  return scatter > 0 ? unit / scatter : data.effective;
}

function misfit({ binned }: SizeData, fit: Fitted, n: number): number {
  let sum = 0;
  let before = 0;
  for (let j = 0; j <= binned.limits.length; j++) {
    const below = j < binned.limits.length ? undersize(fit.model, binned.limits[j]!) : 1;
    const p = Math.max(1e-6, below - before);
    sum += (n * (binned.share[j]! - p) ** 2) / p;
    before = below;
  }
  return sum;
}

function worstMiss({ binned }: SizeData, fit: Fitted): { miss: number; missAt: number } {
  const below = undersizes(binned);
  let miss = 0;
  let missAt = binned.limits[0]!;
  binned.limits.forEach((limit, j) => {
    const off = Math.abs(undersize(fit.model, limit) - below[j]!);
    if (off <= miss) return;
    miss = off;
    missAt = limit;
  });
  return { miss, missAt };
}

/** The fit that is taken: the one asked for when it could be fitted, else the best. */
export const takenFit = (ranked: readonly RankedFit[], asked: ModelName | 'best'): RankedFit | undefined =>
  ranked.find((fit) => fit.name === asked) ?? ranked[0];
