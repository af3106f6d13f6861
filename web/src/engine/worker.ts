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
  WhatMatters,
} from '@pourline/core';
import { expose, transfer } from 'comlink';
import {
  mistakesOf,
  simulate,
  simulateBands,
  solveWaters,
  solveWithConcentrates,
  whatMatters,
} from './compute.ts';
import { buffersOf } from './transfer.ts';

/** What the page may ask of the worker. */
export interface EngineWorker {
  run(bundle: BrewBundle, resolution: Resolution): BrewResult;
  /** Null when stopped. `report` is told the share done, 0–1. */
  bands(bundle: BrewBundle, runs: number, report: (done: number) => void): Bands | null;
  /** What moves the figures of a brew. `report` is told the share done, 0–1, with what is known so far. */
  matters(bundle: BrewBundle, report: (done: number, soFar: WhatMatters) => void): WhatMatters | null;
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
  matters(bundle, report) {
    return whatMatters(bundle, {
      progress: (done, soFar) => {
        report(done, soFar());
        return true;
      },
    });
  },
  waters(order) {
    const solved = solveWaters(order);
    return { solved, mistakes: solved.sheets.map((sheet) => mistakesOf(order, sheet)) };
  },
  bottles: solveWithConcentrates,
};

expose(engine);
