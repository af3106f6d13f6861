import type {
  Bands,
  BrewBundle,
  BrewResult,
  DesignOptions,
  Mistake,
  Resolution,
  SolvedWaters,
  SolvedWithConcentrates,
  WaterOrder,
} from '@pourline/core';
import { expose, transfer } from 'comlink';
import { mistakesOf, simulate, simulateBands, solveWaters, solveWithConcentrates } from './compute.ts';
import { buffersOf } from './transfer.ts';

/** What the page may ask of the worker. */
export interface EngineWorker {
  run(bundle: BrewBundle, resolution: Resolution): BrewResult;
  /** Null when stopped. `report` is told the share done, 0–1. */
  bands(bundle: BrewBundle, runs: number, report: (done: number) => void): Bands | null;
  /** How to make the waters of an order, and the mistakes that each sheet invites. */
  waters(order: WaterOrder): MadeWaters;
  /** The same by way of concentrates designed for it. */
  bottles(order: WaterOrder, design: DesignOptions): SolvedWithConcentrates;
}

export interface MadeWaters {
  solved: SolvedWaters;
  /** By sheet. */
  mistakes: Mistake[][];
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
  waters(order) {
    const solved = solveWaters(order);
    return { solved, mistakes: solved.sheets.map((sheet) => mistakesOf(order, sheet)) };
  },
  bottles: solveWithConcentrates,
};

expose(engine);
