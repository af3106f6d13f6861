import type { Bands, BrewBundle, BrewResult, Resolution } from '@pourline/core';
import { expose, transfer } from 'comlink';
import { simulate, simulateBands } from './compute.ts';
import { buffersOf } from './transfer.ts';

/** What the page may ask of the worker. */
export interface EngineWorker {
  run(bundle: BrewBundle, resolution: Resolution): BrewResult;
  /** Null when stopped. `report` is told the share done, 0–1. */
  bands(bundle: BrewBundle, runs: number, report: (done: number) => void): Bands | null;
}

const engine: EngineWorker = {
  run(bundle, resolution) {
    const result = simulate(bundle, { resolution });
    return transfer(result, buffersOf(result));
  },
  bands(bundle, runs, report) {
    const bands = simulateBands(bundle, runs, (done) => {
      report(done);
      return true;
    });
    return bands ? transfer(bands, buffersOf(bands)) : null;
  },
};

expose(engine);
