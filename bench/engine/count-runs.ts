import { performance } from 'node:perf_hooks';
import { parentPort, workerData } from 'node:worker_threads';
import { type Resolution, simulate } from '@pourline/core';
import { demoBundle } from '../demo-bundle.ts';

/** Runs the demo's plan for a while in this thread and reports how often it got done. */
export function count(): void {
  const { resolution, counted_ms } = workerData as { resolution: Resolution; counted_ms: number };
  const bundle = demoBundle();
  let began = performance.now();
  while (performance.now() - began < counted_ms / 2) simulate(bundle, { resolution });
  let runs = 0;
  began = performance.now();
  while (performance.now() - began < counted_ms) {
    simulate(bundle, { resolution });
    runs++;
  }
  parentPort?.postMessage({ runs, wall_ms: performance.now() - began });
}
