import type { BrewBundle } from '../documents/index.ts';
import type { Bands, BrewResult, Resolution } from './result.ts';

/** Progress of long work: called with 0–1; return false to stop. */
export type Progress = (done: number) => boolean;

/** Options of {@link simulate}. */
export interface SimulateOptions {
  /** Defaults to `'standard'`. */
  resolution?: Resolution;
}

/** Predicts a brew. Pure: the same input gives the same output, bit for bit. */
export declare function simulate(bundle: BrewBundle, options?: SimulateOptions): BrewResult;
/** Spread of a prediction from the plausible ranges of the parameters, by quasi-random sampling. */
export declare function simulateBands(bundle: BrewBundle, runs: number, progress?: Progress): Bands | null;
