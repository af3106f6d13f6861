import '../../../no-eval.ts';
import {
  type BlameQuestion,
  type BrewBundle,
  type BrewDifference,
  blamePours,
  type CupFigure,
  type CupUniformity,
  compareBrews,
  cupsAlike,
  type DifferenceQuestion,
  type PourBlame,
  pourSensitivities,
} from '@pourline/core';
import { expose } from 'comlink';

/** What the page may ask of the desk's worker: everything that answers within a breath. */
export interface TrialsWorker {
  compare(question: DifferenceQuestion): BrewDifference;
  alike(figures: readonly CupFigure[]): CupUniformity;
  /** Which pour made cups of one set differ: runs the engine once a slip. */
  blame(bundle: BrewBundle, question: Omit<BlameQuestion, 'sensitivities'>): PourBlame | null;
}

const worker: TrialsWorker = {
  compare: compareBrews,
  alike: (figures) => cupsAlike(figures),
  blame(bundle, question) {
    const sensitivities = pourSensitivities(bundle);
    return sensitivities && blamePours({ ...question, sensitivities });
  },
};

expose(worker);
