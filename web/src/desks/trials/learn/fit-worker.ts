import '../../../no-eval.ts';
import {
  type AnyDocument,
  type Fit,
  type FitStage,
  type FitState,
  fitHash,
  fitTrials,
  gatherTrials,
  type LearnFinding,
  type Problem,
} from '@pourline/core';
import { expose } from 'comlink';

/** What the trials of a coffee look like before they are fitted. */
export type Gathered =
  | { ok: true; trials: number; hash: string; findings: readonly LearnFinding[] }
  | { ok: false; problems: readonly Problem[] };

/** How a fit ended, or where it stands when it was told to stop. */
export type FitAnswer =
  | { outcome: 'done'; fit: Fit }
  | { outcome: 'stopped'; state: FitState }
  | { outcome: 'refused'; problems: readonly Problem[] };

export interface FitWorker {
  gather(documents: readonly AnyDocument[], coffeeId: string): Gathered;
  fit(
    documents: readonly AnyDocument[],
    coffeeId: string,
    from: FitState | null,
    report: (done: number, stage: FitStage) => void,
  ): Promise<FitAnswer>;
  /** Ends the fit under way at the end of its slice; its answer then carries where it stands. */
  stop(): void;
}

/** A fit works in slices of this length [ms]: between two of them a wish to stop is heard. */
const SLICE_ms = 900;

let stopped = false;

const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

const worker: FitWorker = {
  gather(documents, coffeeId) {
    const gathered = gatherTrials(documents, coffeeId);
    if (!gathered.ok) return gathered;
    const { trials, findings } = gathered.value;
    return { ok: true, trials: trials.length, hash: fitHash(gathered.value), findings };
  },
  async fit(documents, coffeeId, from, report) {
    stopped = false;
    const gathered = gatherTrials(documents, coffeeId);
    if (!gathered.ok) return { outcome: 'refused', problems: gathered.problems };
    let state = from;
    for (;;) {
      const began = performance.now();
      const answer = fitTrials(gathered.value, {
        ...(state ? { resume: state } : {}),
        progress(done, stage) {
          report(done, stage);
          return performance.now() - began < SLICE_ms;
        },
      });
      if (answer.outcome !== 'stopped') return answer;
      state = answer.state;
      await pause();
      if (stopped) return { outcome: 'stopped', state };
    }
  },
  stop() {
    stopped = true;
  },
};

expose(worker);
