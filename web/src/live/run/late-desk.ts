import { type LiveRun, type LiveWay, liveWays, type RunState } from '@pourline/core';
import type { LateQuestion } from './late-worker.ts';

/** Ways to go on, and how long they took to find [ms]. */
export interface LateAnswer {
  ways: readonly LiveWay[];
  took_ms: number;
  /** Moment of the run that they are for [s]. */
  for_s: number;
}

/** Waits this long for the worker [ms] before it computes the answer on the spot: late is no time to wait. */
const PATIENCE_MS = 400;

/** Finds ways to go on beside the screen, so that the clock on it never stands still. */
export class LateDesk {
  #worker: Worker | null = null;
  #ask = 0;
  readonly #run: LiveRun;

  constructor(run: LiveRun) {
    this.#run = run;
    try {
      this.#worker = new Worker(new URL('./late-worker.ts', import.meta.url), { type: 'module' });
      this.#worker.onerror = () => {
        this.#worker = null;
      };
    } catch {
      this.#worker = null;
    }
  }

  waysFor(state: RunState, now_s: number): Promise<LateAnswer> {
    const began = performance.now();
    const run = this.#run;
    const answer = (ways: readonly LiveWay[]): LateAnswer => ({
      ways,
      took_ms: performance.now() - began,
      for_s: now_s,
    });
    const worker = this.#worker;
    if (!worker) return Promise.resolve(answer(liveWays(run, state, now_s)));
    return new Promise((resolve) => {
      const ask = ++this.#ask;
      const done = (ways: readonly LiveWay[]): void => {
        worker.removeEventListener('message', hear);
        clearTimeout(patience);
        resolve(answer(ways));
      };
      const hear = ({ data }: MessageEvent<{ ask: number; ways: LiveWay[] }>): void => {
        if (data.ask === ask) done(data.ways);
      };
      const patience = setTimeout(() => done(liveWays(run, state, now_s)), PATIENCE_MS);
      worker.addEventListener('message', hear);
      worker.postMessage({ ask, run, state, now_s } satisfies LateQuestion);
    });
  }

  close(): void {
    this.#worker?.terminate();
  }
}
