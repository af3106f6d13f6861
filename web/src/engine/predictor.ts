import type { Bands, BrewBundle, BrewResult, Resolution } from '@pourline/core';
import type { Engine } from './client.ts';
import { latestWins } from './latest-wins.ts';

/** What is known about the cup of one plan. */
export interface Prediction {
  /** The newest result; kept while the next is computed. */
  readonly result: BrewResult | null;
  /** What the result belongs to. */
  readonly bundle: BrewBundle | null;
  /** Spread for exactly this bundle, when it is there. */
  readonly bands: Bands | null;
  /** Share of the spread computed, 0–1; null when none is under way. */
  readonly bandsDone: number | null;
  /** The result does not belong to what was asked last: that could not be computed. */
  readonly stale: boolean;
  /** Why, when the engine failed. */
  readonly failure: string | null;
}

export interface Predictor {
  get(): Prediction;
  subscribe(listener: () => void): () => void;
  /** Predicts `bundle`. While `moving` only drafts are made, as fast as they come. Null marks what is shown as stale. */
  show(bundle: BrewBundle | null, moving: boolean): void;
  /** Stops everything that is not under way yet; {@link Predictor.show} starts it again. */
  pause(): void;
}

export interface PredictorOptions {
  /** Quiet time after a movement before the finer run [ms]. Defaults to 200. */
  settle_ms?: number;
  /** Quiet time after the finer run before its spread [ms]. Defaults to 350. */
  rest_ms?: number;
  /** Runs of the spread; 0 for none. Defaults to 64. */
  bandRuns?: number;
}

interface Job {
  bundle: BrewBundle;
  key: string;
  resolution: Resolution;
}

const KEPT = 24;
const nothing: Prediction = {
  result: null,
  bundle: null,
  bands: null,
  bandsDone: null,
  stale: false,
  failure: null,
};

/** Keeps one plan's prediction up to date: drafts while things move, then a standard run, then its spread. */
export function makePredictor(engine: Engine, options: PredictorOptions = {}): Predictor {
  const { settle_ms = 200, rest_ms = 350, bandRuns = 64 } = options;
  const listeners = new Set<() => void>();
  const results = new Map<string, BrewResult>();
  const spreads = new Map<string, Bands>();
  let state = nothing;
  let wanted: { bundle: BrewBundle; key: string } | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const set = (change: Partial<Prediction>): void => {
    state = { ...state, ...change };
    for (const tell of listeners) tell();
  };

  const later = (ms: number, work: () => void): void => {
    clearTimeout(timer);
    timer = setTimeout(work, ms);
  };

  const queue = latestWins<Job, BrewResult>(
    (job) => engine.run(job.bundle, job.resolution),
    (result, job) => {
      if (job.resolution !== 'draft') keep(results, job.key, result);
      const mine = job.key === wanted?.key;
      // A finer result that belongs to an older plan would jump back behind a draft; a draft of an older plan is the
      // nearest there is to the finger.
      if (!mine && job.resolution !== 'draft') return;
      set({
        result,
        bundle: job.bundle,
        bands: mine ? (spreads.get(job.key) ?? null) : null,
        stale: wanted === null,
        failure: null,
      });
      if (mine && job.resolution !== 'draft') later(rest_ms, startBands);
    },
    (reason, job) => {
      if (job.key === wanted?.key)
        set({ stale: true, failure: reason instanceof Error ? reason.message : String(reason) });
    },
  );

  function startBands(): void {
    const now = wanted;
    if (!now || bandRuns === 0 || spreads.has(now.key)) return;
    set({ bandsDone: 0 });
    engine
      .bands(now.bundle, bandRuns, (done) => {
        // Tenths are enough to see it move; every report would redraw the desk.
        const tenths = Math.floor(done * 10) / 10;
        if (wanted?.key === now.key && tenths !== state.bandsDone) set({ bandsDone: tenths });
      })
      .then((bands) => {
        if (bands) keep(spreads, now.key, bands);
        if (wanted?.key === now.key) set({ bands, bandsDone: null });
      })
      .catch(() => set({ bandsDone: null }));
  }

  /** Ends a spread of ours under way; another plan's is none of our business. */
  function stopSpread(): void {
    if (state.bandsDone !== null) engine.stopBands();
  }

  const finer = (): void => {
    if (wanted) queue.ask({ ...wanted, resolution: 'standard' });
  };

  return {
    get: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    show(bundle, moving) {
      clearTimeout(timer);
      if (!bundle) {
        wanted = null;
        queue.clear();
        stopSpread();
        set({ stale: state.result !== null, bandsDone: null });
        return;
      }
      const key = JSON.stringify(bundle);
      const same = key === wanted?.key;
      wanted = { bundle, key };
      if (!same) {
        stopSpread();
        if (state.bands || state.bandsDone !== null) set({ bands: null, bandsDone: null });
      }
      const known = results.get(key);
      if (known && !moving) {
        queue.clear();
        set({
          result: known,
          bundle,
          bands: spreads.get(key) ?? null,
          bandsDone: null,
          stale: false,
          failure: null,
        });
        later(rest_ms, startBands);
        return;
      }
      if (!same) queue.ask({ bundle, key, resolution: 'draft' });
      // A finger that rests a moment will go on; a finer run now would make it wait.
      const quiet = moving ? settle_ms * 4 : settle_ms;
      later(state.result === null && !moving ? 0 : quiet, finer);
    },
    pause() {
      clearTimeout(timer);
      queue.clear();
      stopSpread();
    },
  };
}

/** Keeps the newest {@link KEPT} entries. */
function keep<T>(store: Map<string, T>, key: string, value: T): void {
  store.delete(key);
  store.set(key, value);
  if (store.size > KEPT) store.delete(store.keys().next().value!);
}
