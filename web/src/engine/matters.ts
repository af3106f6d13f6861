import type { BrewBundle, WhatMatters } from '@pourline/core';
import { proxy } from 'comlink';
import { openRoom } from './client.ts';

/** What is known about what moves one plan. */
export interface Matters {
  /** As far as it got: it grows while it is worked out, and stays when that is stopped. */
  readonly result: WhatMatters | null;
  /** What the result belongs to. */
  readonly bundle: BrewBundle | null;
  /** Share done, 0–1; null when nothing is under way. */
  readonly done: number | null;
  /** Why it failed. */
  readonly failure: string | null;
}

export interface MattersStore {
  get(): Matters;
  subscribe(listener: () => void): () => void;
  /** Starts for a bundle; what was under way ends. */
  start(bundle: BrewBundle): void;
  /** Ends what is under way and keeps what it has. */
  stop(): void;
}

/** A computation under way elsewhere. */
export interface MattersJob {
  answer: Promise<WhatMatters | null>;
  /** Ends it; the answer then never comes. */
  end(): void;
}

/** Starts the computation; `report` is told how far it is and what is known so far. */
export type StartMatters = (
  bundle: BrewBundle,
  report: (done: number, soFar: WhatMatters) => void,
) => MattersJob;

/** In a worker of its own, which is closed after it: such a study is asked for now and then. */
export const mattersInWorker: StartMatters = (bundle, report) => {
  const { worker, remote } = openRoom();
  const failed = new Promise<never>((_, refuse) => {
    worker.addEventListener('error', (event) => refuse(new Error(event.message)));
  });
  const answer = Promise.race([remote.matters(bundle, proxy(report)), failed]).finally(() =>
    worker.terminate(),
  );
  return { answer, end: () => worker.terminate() };
};

/** Keeps what one desk asked for. */
export function makeMatters(begin: StartMatters): MattersStore {
  const listeners = new Set<() => void>();
  let state: Matters = { result: null, bundle: null, done: null, failure: null };
  let job: MattersJob | null = null;
  const set = (change: Partial<Matters>): void => {
    state = { ...state, ...change };
    for (const tell of listeners) tell();
  };
  const stop = (): void => {
    job?.end();
    job = null;
    if (state.done !== null) set({ done: null });
  };
  return {
    get: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    start(bundle) {
      stop();
      set({ done: 0, failure: null });
      const mine = begin(bundle, (done, soFar) => {
        // Reports travel on a road of their own and may come in after the end.
        if (job === mine) set({ result: soFar, bundle, done });
      });
      job = mine;
      mine.answer.then(
        (result) => {
          if (job !== mine) return;
          job = null;
          set(result ? { result, bundle, done: null } : { done: null });
        },
        (reason: unknown) => {
          if (job !== mine) return;
          job = null;
          set({ done: null, failure: reason instanceof Error ? reason.message : String(reason) });
        },
      );
    },
    stop,
  };
}
