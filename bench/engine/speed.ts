import { Worker } from 'node:worker_threads';
import { defaultParameters, type Resolution, simulate } from '@pourline/core';
import { compileCase } from '../../core/src/brew/compile.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { demoBundle } from '../demo-bundle.ts';
import { printTable } from '../table.ts';
import { ms, timesOf } from './cpu.ts';

const PLANS = [
  'Four pours, cool then hot',
  'Five pours in the cone',
  'Closed for two minutes and a half',
  'Three pours and a little water after',
];
const RESOLUTIONS: readonly Resolution[] = ['draft', 'standard', 'reference'];
/** How long each worker is counted [ms]. */
const COUNTED_MS = 3_000;

/** The solver alone and the whole of `simulate`, on every plan of the demo. */
export function byResolution(): void {
  const rows = PLANS.flatMap((name) =>
    RESOLUTIONS.map((resolution) => {
      const bundle = demoBundle(name);
      const c = compileCase(bundle, defaultParameters(), resolution);
      const { steps, rejected } = runCase(c);
      const solver = timesOf(() => runCase(c));
      const whole = timesOf(() => simulate(bundle, { resolution }));
      return [
        name,
        resolution,
        `${steps}+${rejected}`,
        ...[solver.wall.median_ms, solver.wall.p90_ms, solver.cpu.median_ms, solver.cpu.p90_ms].map(ms),
        ...[whole.wall.median_ms, whole.wall.p90_ms, whole.cpu.median_ms, whole.cpu.p90_ms].map(ms),
      ];
    }),
  );
  printTable(
    'One brew: the solver alone, and simulate (standard and reference solve a second, coarser time for their error) [ms]',
    ['plan', 'resolution', 'steps+tries', 'solver', 'p90', 'cpu', 'p90', 'simulate', 'p90', 'cpu', 'p90'],
    rows,
  );
}

/** Runs that a worker got done in a time. */
interface Done {
  runs: number;
  wall_ms: number;
}

/** One worker's count. @throws what the worker throws */
function count(resolution: Resolution): Promise<Done> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./worker.mjs', import.meta.url), {
      workerData: { resolution, counted_ms: COUNTED_MS },
    });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
}

/** Runs per second of one worker thread and of two at once. */
export async function byWorkers(): Promise<void> {
  const rows: string[][] = [];
  for (const resolution of ['draft', 'standard'] as const)
    for (const workers of [1, 2]) {
      const before = process.cpuUsage();
      const done = await Promise.all(Array.from({ length: workers }, () => count(resolution)));
      const { user, system } = process.cpuUsage(before);
      const runs = done.reduce((sum, one) => sum + one.runs, 0);
      const rate = done.reduce((sum, one) => sum + (one.runs / one.wall_ms) * 1e3, 0);
      rows.push([
        resolution,
        String(workers),
        rate.toFixed(0),
        ms((user + system) / 1e3 / runs),
        ms(done.reduce((sum, one) => sum + one.wall_ms, 0) / runs),
      ]);
    }
  printTable(
    'simulate in worker threads, each with its own warm-up',
    [
      'resolution',
      'workers',
      'runs per second',
      'cpu ms per run, warm-up and start counted',
      'wall ms per run',
    ],
    rows,
  );
}
