import '../../../no-eval.ts';
import {
  type AnyDocument,
  type BrewBundle,
  type Fit,
  type FitStage,
  type FitState,
  fitHash,
  fitTrials,
  gatherTrials,
  type LearnedBands,
  type LearnFinding,
  type Problem,
  predictWith,
} from '@pourline/core';
import { expose } from 'comlink';

/** What the trials of a coffee look like before they are fitted. */
export type Gathered =
  | { ok: true; trials: number; hash: string; findings: readonly LearnFinding[] }
  | { ok: false; problems: readonly Problem[] };

/** How a fit ended. */
export type FitAnswer = { outcome: 'done'; fit: Fit } | { outcome: 'refused'; problems: readonly Problem[] };

export interface FitWorker {
  gather(documents: readonly AnyDocument[], coffeeId: string): Gathered;
  /** `report` is told the share done; `keep` gets where it stands now and then, to go on from when this worker is ended. */
  fit(
    documents: readonly AnyDocument[],
    coffeeId: string,
    from: FitState | null,
    report: (done: number, stage: FitStage) => void,
    keep: (state: FitState) => void,
  ): FitAnswer;
  /** What a plan will give, with what the trials taught. */
  predict(fit: Fit, bundle: BrewBundle, report: (done: number) => void): LearnedBands | null;
}

/** Brewing in the engine is cut into slices of this length [ms]; what was brewed by then is kept, so that stopping loses no more. */
const SLICE_ms = 2_500;

const worker: FitWorker = {
  gather(documents, coffeeId) {
    const gathered = gatherTrials(documents, coffeeId);
    if (!gathered.ok) return gathered;
    const { trials, findings } = gathered.value;
    return { ok: true, trials: trials.length, hash: fitHash(gathered.value), findings };
  },
  fit(documents, coffeeId, from, report, keep) {
    const gathered = gatherTrials(documents, coffeeId);
    if (!gathered.ok) return { outcome: 'refused', problems: gathered.problems };
    let state = from;
    for (;;) {
      const began = performance.now();
      const answer = fitTrials(gathered.value, {
        ...(state ? { resume: state } : {}),
        progress(done, stage) {
          report(done, stage);
          // Only the engine's runs can be kept; what comes after them is done in one go.
          return stage !== 'engine' || performance.now() - began < SLICE_ms;
        },
      });
      if (answer.outcome !== 'stopped') return answer;
      state = answer.state;
      keep(state);
    }
  },
  predict: (fit, bundle, report) =>
    predictWith(fit, bundle, {
      progress(done) {
        report(done);
        return true;
      },
    }),
};

expose(worker);
