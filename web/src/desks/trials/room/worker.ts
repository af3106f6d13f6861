import '../../../no-eval.ts';
import {
  type BlameQuestion,
  type BrewBundle,
  type BrewDifference,
  blamePours,
  type ChampionPair,
  type CupFigure,
  type CupUniformity,
  championPair,
  compareBrews,
  cupsAlike,
  type DesignFactor,
  type DesignKind,
  type DialInPlan,
  type DialInQuestion,
  type DifferenceQuestion,
  type LikedCup,
  makeRunSheet,
  type NextBrew,
  type NextQuestion,
  type PourBlame,
  type PreferredRegion,
  planDialIn,
  pourSensitivities,
  preferredRegion,
  type RunSheet,
  suggestNext,
} from '@pourline/core';
import { expose } from 'comlink';
import { makeDesign, modelOf } from '../design/make-design.ts';

/** A designed set that is wanted. */
export interface SheetOrder {
  kind: DesignKind;
  factors: readonly DesignFactor[];
  runs: number;
  per_day: number | null;
  dose_g: number | null;
  against_drift: boolean;
  seed: number;
}

/** The next brew, and the pair to taste it in; a function cannot travel, so nothing is expected beforehand. */
export type NextOrder = Omit<NextQuestion, 'expect' | 'progress'>;
export interface NextAnswer {
  next: NextBrew;
  pair: ChampionPair | null;
}

/** What the page may ask of the desk's worker: everything that answers within a breath. */
export interface TrialsWorker {
  compare(question: DifferenceQuestion): BrewDifference;
  alike(figures: readonly CupFigure[]): CupUniformity;
  /** Which pour made cups of one set differ: runs the engine once a slip. */
  blame(bundle: BrewBundle, question: Omit<BlameQuestion, 'sensitivities'>): PourBlame | null;
  /** A run sheet; null when the kind does not fit the factors. */
  sheet(order: SheetOrder): RunSheet | null;
  next(order: NextOrder): NextAnswer;
  dialIn(question: DialInQuestion): DialInPlan;
  /** Where cups are liked best, from their marks. */
  prefer(cups: readonly LikedCup[]): PreferredRegion;
}

const worker: TrialsWorker = {
  compare: compareBrews,
  alike: (figures) => cupsAlike(figures),
  blame(bundle, question) {
    const sensitivities = pourSensitivities(bundle);
    return sensitivities && blamePours({ ...question, sensitivities });
  },
  sheet({ kind, factors, runs, ...options }) {
    const design = makeDesign(kind, factors.length, runs, options.seed);
    return design && makeRunSheet(design, factors, { ...options, model: modelOf(kind) });
  },
  next(order) {
    const question = { ...order, expect: null };
    return { next: suggestNext(question), pair: championPair(question) };
  },
  dialIn: planDialIn,
  prefer: (cups) => preferredRegion(cups),
};

expose(worker);
