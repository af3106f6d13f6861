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
  problems: [],
  failure: null,
};

interface FitRoom {
  worker: Worker;
  remote: Remote<FitWorker>;
}

let shared: FitRoom | null = null;

function theFitRoom(): FitRoom {
  if (shared) return shared;
  const worker = new Worker(new URL('./fit-worker.ts', import.meta.url), { type: 'module' });
  shared = { worker, remote: wrap<FitWorker>(worker) };
  return shared;
}

function makeFitStore(): FitStore {
  const listeners = new Set<() => void>();
  let view = NOTHING;
  let looking = 0;
  let running: object | null = null;
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
        const gathered = await theFitRoom().remote.gather(documents, coffeeId);
        if (mine === looking && view.done === null) set({ gathered });
      } catch (reason) {
        if (mine === looking) set({ failure: saidBy(reason) });
      }
    },
    async start(documents, anew) {
      const { coffeeId, begun } = view;
      if (coffeeId === null || view.done !== null) return;
      const mine = {};
      running = mine;
      const put = (part: Partial<FitView>): void => {
        // Reports travel on a road of their own and may come in after the end.
        if (running === mine) set(part);
      };
      set({ done: 0, stage: null, problems: [], failure: null });
      const room = theFitRoom();
      const failed = new Promise<never>((_, refuse) => {
        room.worker.addEventListener('error', (event) => refuse(new Error(event.message)), { once: true });
      });
      const keep = (state: FitState): void => {
        put({ begun: state });
        void keepBegun(coffeeId, state);
      };
      try {
        const work = room.remote.fit(
          documents,
          coffeeId,
          anew ? null : begun,
          proxy((done: number, stage: FitStage) => put({ done, stage })),
          proxy(keep),
        );
        const answer = await Promise.race([work, failed]);
        if (running !== mine) return;
        if (answer.outcome === 'done') {
          await keepFit(answer.fit);
          put({ fit: answer.fit, begun: null, done: null });
        } else {
          await dropBegun(coffeeId);
          put({ problems: answer.problems, begun: null, done: null });
        }
      } catch (reason) {
        put({ failure: saidBy(reason), done: null });
      }
      if (running === mine) running = null;
    },
    stop() {
      if (view.done === null) return;
      // It hears nothing while it works, so stopping means ending its worker; what it kept is gone on with.
      running = null;
      shared?.worker.terminate();
      shared = null;
      set({ done: null });
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
