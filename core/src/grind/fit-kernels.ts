import type { SizeModel } from './model.ts';
import { normalCdf, normalDensity } from './special.ts';

/** A family of models as an optimiser sees it: parameters without bounds, and derivatives in closed form. */
export interface FitFamily {
  /** Number of parameters, K. */
  parameters: number;
  /**
   * Writes the undersize at every limit into `below` [J] and its derivatives into `slopes`, row-major `[J][K]`. Limits are
   * given by their logarithms.
   */
  evaluate(theta: Float64Array, logLimits: Float64Array, below: Float64Array, slopes: Float64Array): void;
  toModel(theta: Float64Array): SizeModel;
  fromModel(model: SizeModel): Float64Array;
  /** Keeps parameters where they can be told from data: within these limits of ln d. */
  confine(theta: Float64Array, lowest: number, highest: number): void;
}

/** Narrowest and widest log-normal mode that is believed, as ln of its geometric standard deviation. */
const NARROWEST = Math.log(1.04);
const WIDEST = Math.log(4);
/** Weibull exponents that are believed. */
const SHAPES = [0.2, 30] as const;

/**
 * Log-normal modes: K = 3m − 1 parameters, first m − 1 logits of the shares against the last mode, then ln medians, then the
 * logarithms of s = ln(gsd).
 */
export function logNormalFamily(modes: number): FitFamily {
  const K = 3 * modes - 1;
  const shares = new Float64Array(modes);
  const fill = (theta: Float64Array) => {
    let total = 1;
    for (let m = 0; m < modes - 1; m++) {
      shares[m] = Math.exp(theta[m]!);
      total += shares[m]!;
    }
    for (let m = 0; m < modes - 1; m++) shares[m] = shares[m]! / total;
    shares[modes - 1] = 1 / total;
  };
  return {
    parameters: K,
    evaluate(theta, logLimits, below, slopes) {
      fill(theta);
      for (let j = 0; j < logLimits.length; j++) {
        let sum = 0;
        for (let m = 0; m < modes; m++) {
          const s = Math.exp(theta[2 * modes - 1 + m]!);
          const z = (logLimits[j]! - theta[modes - 1 + m]!) / s;
          const part = normalCdf(z);
          const density = shares[m]! * normalDensity(z);
          sum += shares[m]! * part;
          slopes[j * K + modes - 1 + m] = -density / s;
          slopes[j * K + 2 * modes - 1 + m] = -density * z;
          if (m < modes - 1) slopes[j * K + m] = shares[m]! * part;
        }
        for (let m = 0; m < modes - 1; m++) slopes[j * K + m] = slopes[j * K + m]! - shares[m]! * sum;
        below[j] = sum;
      }
    },
    toModel(theta) {
      fill(theta);
      const list = Array.from({ length: modes }, (_, m) => ({
        share: shares[m]!,
        median: Math.exp(theta[modes - 1 + m]!),
        gsd: Math.exp(Math.exp(theta[2 * modes - 1 + m]!)),
      }));
      return { family: 'log_normal', modes: list.sort((a, b) => a.median - b.median) };
    },
    fromModel(model) {
      if (model.family !== 'log_normal' || model.modes.length !== modes)
        throw new Error(`logNormalFamily(${modes}): the model is of another family`);
      const theta = new Float64Array(K);
      const last = Math.max(model.modes[modes - 1]!.share, 1e-6);
      model.modes.forEach(({ share, median, gsd }, m) => {
        if (m < modes - 1) theta[m] = Math.log(Math.max(share, 1e-6) / last);
        theta[modes - 1 + m] = Math.log(median);
        theta[2 * modes - 1 + m] = Math.log(Math.log(gsd));
      });
      return theta;
    },
    confine(theta, lowest, highest) {
      for (let m = 0; m < modes - 1; m++) theta[m] = within(theta[m]!, -9, 9);
      for (let m = 0; m < modes; m++) {
        theta[modes - 1 + m] = within(theta[modes - 1 + m]!, lowest, highest);
        theta[2 * modes - 1 + m] = within(theta[2 * modes - 1 + m]!, Math.log(NARROWEST), Math.log(WIDEST));
      }
    },
  };
}

/** Weibull's distribution: parameters ln(scale) and ln(shape). */
export const weibullFamily: FitFamily = {
  parameters: 2,
  evaluate(theta, logLimits, below, slopes) {
    const shape = Math.exp(theta[1]!);
    for (let j = 0; j < logLimits.length; j++) {
      const distance = logLimits[j]! - theta[0]!;
      const t = Math.exp(shape * distance);
      const coarser = Math.exp(-t);
      below[j] = -Math.expm1(-t);
      slopes[2 * j] = t === Number.POSITIVE_INFINITY ? 0 : -shape * t * coarser;
      slopes[2 * j + 1] = t === Number.POSITIVE_INFINITY ? 0 : shape * distance * t * coarser;
    }
  },
  toModel: (theta) => ({ family: 'weibull', scale: Math.exp(theta[0]!), shape: Math.exp(theta[1]!) }),
  fromModel(model) {
    if (model.family !== 'weibull') throw new Error('weibullFamily: the model is of another family');
    return Float64Array.of(Math.log(model.scale), Math.log(model.shape));
  },
  confine(theta, lowest, highest) {
    theta[0] = within(theta[0]!, lowest, highest);
    theta[1] = within(theta[1]!, Math.log(SHAPES[0]), Math.log(SHAPES[1]));
  },
};

const within = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));
