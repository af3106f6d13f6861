import type { Bands, BrewBundle, BrewResult, Resolution } from '@pourline/core';
import { proxy, type Remote, wrap } from 'comlink';
import type { EngineWorker } from './worker.ts';

/** The engine as the page sees it. */
export interface Engine {
  run(bundle: BrewBundle, resolution: Resolution): Promise<BrewResult>;
  /** Resolves to null when stopped through {@link stopBands}. */
  bands(bundle: BrewBundle, runs: number, report: (done: number) => void): Promise<Bands | null>;
  /** Ends spread runs under way at once, so that they never slow a drag. */
  stopBands(): void;
}

/** A worker of its own and its far end. */
export interface Room {
  worker: Worker;
  remote: Remote<EngineWorker>;
}

/** Opens one more worker. */
export const openRoom = (): Room => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  return { worker, remote: wrap<EngineWorker>(worker) };
};

/**
 * Opens the engine: one worker for predictions and, when first needed, one for spreads. A spread is one long computation that
 * hears nothing while it runs; stopping it means ending its worker.
 */
function openEngine(): Engine {
  const predictions = openRoom();
  let spreads: Room | null = null;
  let stop: (() => void) | null = null;
  const stopBands = (): void => {
    if (!stop) return;
    spreads?.worker.terminate();
    spreads = null;
    stop();
    stop = null;
  };
  return {
    run: (bundle, resolution) => predictions.remote.run(bundle, resolution),
    async bands(bundle, runs, report) {
      stopBands();
      spreads ??= openRoom();
      const stopped = new Promise<null>((resolve) => {
        stop = () => resolve(null);
      });
      const mine = stop;
      let over = false;
      const tell = (done: number): void => {
        // Reports travel on a road of their own and may come in after the answer.
        if (!over) report(done);
      };
      const bands = await Promise.race([spreads.remote.bands(bundle, runs, proxy(tell)), stopped]);
      over = true;
      if (stop === mine) stop = null;
      return bands;
    },
    stopBands,
  };
}

let shared: Engine | null = null;

/** The page's one engine, opened on first use. */
export function theEngine(): Engine {
  shared ??= openEngine();
  return shared;
}
