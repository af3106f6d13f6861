import { PerformanceObserver } from 'node:perf_hooks';
import { parentPort } from 'node:worker_threads';
import { defaultParameters } from '@pourline/core';
import type { BrewCase } from '../../core/src/brew/case.ts';
import { compileCase } from '../../core/src/brew/compile.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { demoBundle } from '../demo-bundle.ts';

/** Bytes that one run takes. */
export interface Taken {
  tolerance: number;
  steps: number;
  tries: number;
  /** Numbers in one record of the trace. */
  width: number;
  heap: number;
  buffers: number;
  /** Of the heap, per record written. */
  perRecord: number;
  collections: number;
}

const RUNS = 8;
const WARM = 60;

/** Bytes on the heap and in array buffers since the start of `work`, `times` over; needs room for no collection. */
function taken(work: () => unknown, times: number): { heap: number; buffers: number } {
  const before = process.memoryUsage();
  for (let i = 0; i < times; i++) work();
  const after = process.memoryUsage();
  return {
    heap: (after.heapUsed - before.heapUsed) / times,
    buffers: (after.arrayBuffers - before.arrayBuffers) / times,
  };
}

/** Measures in this thread, whose young space holds everything that the runs leave behind, and posts the rows. */
export async function measureAllocation(): Promise<void> {
  let collections = 0;
  const observer = new PerformanceObserver((list) => {
    collections += list.getEntries().length;
  });
  observer.observe({ entryTypes: ['gc'] });
  const settle = () => new Promise((resolve) => setTimeout(resolve, 20));
  const c = compileCase(demoBundle(), defaultParameters(), 'standard');
  const rows: Taken[] = [];
  for (const tolerance of [1, 0.1, 0.01]) {
    const sized: BrewCase = { ...c, numerics: { ...c.numerics, tolerance } };
    for (let i = 0; i < WARM; i++) runCase(sized);
    globalThis.gc?.();
    await settle();
    collections = 0;
    const { heap, buffers } = taken(() => runCase(sized), RUNS);
    const run = runCase(sized);
    const perRecord = taken(() => run.recorder.record(1, 0.1), 1_000).heap;
    await settle();
    const width = 20 + 2 * run.state.cells + 2 * run.state.solutes;
    rows.push({
      tolerance,
      steps: run.steps,
      tries: run.steps + run.rejected,
      width,
      heap,
      buffers,
      perRecord,
      collections,
    });
  }
  observer.disconnect();
  parentPort?.postMessage(rows);
}
