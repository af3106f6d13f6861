import type { AnyDocument, Fit, FitStage, FitState, Problem } from '@pourline/core';
import { proxy, type Remote, wrap } from 'comlink';
import { dropBegun, fromShelf, keepBegun, keepFit } from './fit-shelf.ts';
import type { FitWorker, Gathered } from './fit-worker.ts';

/** What is known of the fit of one coffee. */
export interface FitView {
  readonly coffeeId: string | null;
  /** The trials as they stand now. */
  readonly gathered: Gathered | null;
  readonly fit: Fit | null;
  /** There is unfinished work that can be gone on with. */
  readonly begun: FitState | null;
  /** Share done and what is done; null when nothing is under way. */
  readonly done: number | null;
  readonly stage: FitStage | null;
  readonly stopping: boolean;
  readonly problems: readonly Problem[];
  readonly failure: string | null;
}

export interface FitStore {
  get(): FitView;
  subscribe(listener: () => void): () => void;
  /** Looks at a coffee: what is on the shelf, and what its trials are now. */
  look(documents: readonly AnyDocument[], coffeeId: string): Promise<void>;
  /** Starts, or goes on where it was stopped. */
  start(documents: readonly AnyDocument[], anew: boolean): Promise<void>;
  stop(): void;
}

const NOTHING: FitView = {
  coffeeId: null,
  gathered: null,
  fit: null,
  begun: null,
  done: null,
  stage: null,
  stopping: false,
  problems: [],
  failure: null,
};

let shared: Remote<FitWorker> | null = null;

function theFitWorker(): Remote<FitWorker> {
  shared ??= wrap<FitWorker>(new Worker(new URL('./fit-worker.ts', import.meta.url), { type: 'module' }));
  return shared;
}

function makeFitStore(): FitStore {
  const listeners = new Set<() => void>();
  let view = NOTHING;
  let looking = 0;
  const set = (part: Partial<FitView>): void => {
    view = { ...view, ...part };
    for (const tell of listeners) tell();
  };
  return {
    get: () => view,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async look(documents, coffeeId) {
      const mine = ++looking;
      // A fit under way owns the view until it ends.
      if (view.done !== null) return;
      if (view.coffeeId !== coffeeId) set({ ...NOTHING, coffeeId });
      try {
        const kept = await fromShelf(coffeeId);
        if (mine === looking && view.done === null) set(kept);
        const gathered = await theFitWorker().gather(documents, coffeeId);
        if (mine === looking && view.done === null) set({ gathered });
      } catch (reason) {
        if (mine === looking) set({ failure: saidBy(reason) });
      }
    },
    async start(documents, anew) {
      const { coffeeId, begun } = view;
      if (coffeeId === null || view.done !== null) return;
      set({ done: 0, stage: null, stopping: false, problems: [], failure: null });
      let over = false;
      const report = (done: number, stage: FitStage): void => {
        // Reports travel on a road of their own and may come in after the answer.
        if (!over) set({ done, stage });
      };
      try {
        const from = anew ? null : begun;
        const answer = await theFitWorker().fit(documents, coffeeId, from, proxy(report));
        over = true;
        if (answer.outcome === 'done') {
          await keepFit(answer.fit);
          set({ fit: answer.fit, begun: null, done: null, stopping: false });
        } else if (answer.outcome === 'stopped') {
          await keepBegun(coffeeId, answer.state);
          set({ begun: answer.state, done: null, stopping: false });
        } else {
          await dropBegun(coffeeId);
          set({ problems: answer.problems, begun: null, done: null, stopping: false });
        }
      } catch (reason) {
        over = true;
        set({ failure: saidBy(reason), done: null, stopping: false });
      }
    },
    stop() {
      if (view.done === null) return;
      set({ stopping: true });
      void theFitWorker().stop();
    },
  };
}

const saidBy = (reason: unknown): string => (reason instanceof Error ? reason.message : String(reason));

let store: FitStore | null = null;

/** The page's one store of fits: a fit goes on while other pages are looked at. */
export function theFits(): FitStore {
  store ??= makeFitStore();
  return store;
}
