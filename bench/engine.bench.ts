import { type BrewBundle, defaultParameters, type Resolution, simulate, simulateBands } from '@pourline/core';
import { compileCase } from '../core/src/brew/compile.ts';
import { runCase } from '../core/src/brew/run.ts';
import { demoBundle } from './demo-bundle.ts';
import { growth, machine, measure } from './measure.ts';
import { printTable } from './table.ts';

const ms = (value: number): string => value.toFixed(value < 10 ? 2 : 1);
const PLANS = [
  'Four pours, cool then hot',
  'Five pours in the cone',
  'Closed for two minutes and a half',
  'Three pours and a little water after',
];

async function byResolution(): Promise<void> {
  const rows: string[][] = [];
  for (const name of PLANS)
    for (const resolution of ['draft', 'standard', 'reference'] as Resolution[]) {
      const bundle = demoBundle(name);
      const { stats } = simulate(bundle, { resolution });
      const t = await measure(() => simulate(bundle, { resolution }));
      rows.push([
        name,
        resolution,
        String(stats.cells),
        String(stats.classes),
        String(stats.steps),
        ms(t.median_ms),
        ms(t.p90_ms),
        (1000 / t.median_ms).toFixed(0),
      ]);
    }
  printTable(
    'simulate, whole (standard and reference run a second time for their error estimate)',
    ['plan', 'resolution', 'cells', 'classes', 'steps', 'median ms', 'p90 ms', 'per second'],
    rows,
  );
}

/** The same case on more and more cells, the solver alone. */
async function byCells(): Promise<void> {
  const c = compileCase(demoBundle(), defaultParameters(), 'standard');
  const sizes = [8, 16, 32, 64];
  const times: number[] = [];
  const rows: string[][] = [];
  for (const cells of sizes) {
    const sized = { ...c, numerics: { ...c.numerics, cells } };
    const { steps } = runCase(sized);
    const t = await measure(() => runCase(sized));
    times.push(t.median_ms / steps);
    rows.push([String(cells), String(steps), ms(t.median_ms), ((t.median_ms / steps) * 1000).toFixed(1)]);
  }
  printTable('One run by cells', ['cells', 'steps', 'median ms', 'µs per step'], rows);
  console.log(`Time per step grows as cells^${growth(sizes, times).toFixed(2)}`);
}

/** The same water in more and more pours. */
async function byPours(): Promise<void> {
  const bundle = demoBundle();
  const sizes = [1, 2, 4, 8, 16];
  const rows: string[][] = [];
  for (const n of sizes) {
    const split = inPours(bundle, n);
    const { stats } = simulate(split, { resolution: 'draft' });
    const t = await measure(() => simulate(split, { resolution: 'draft' }));
    rows.push([
      String(n),
      String(stats.steps),
      ms(t.median_ms),
      ((t.median_ms / stats.steps) * 1000).toFixed(1),
    ]);
  }
  printTable('Draft run by pours', ['pours', 'steps', 'median ms', 'µs per step'], rows);
}

/** 200 g poured from 0 to 120 s in `n` equal pours. */
function inPours(bundle: BrewBundle, n: number): BrewBundle {
  const first = bundle.plan.pours[0]!;
  const pours = Array.from({ length: n }, (_, i) => ({
    ...first,
    id: `p${i}`,
    start_s: (i * 120) / n,
    water_g: 200 / n,
    rate: { by: 'flow' as const, flow_g_s: 5 },
    kettle_temperature_C: 90,
  }));
  return { ...bundle, plan: { ...bundle.plan, pours, lift_s: null } };
}

async function bands(): Promise<void> {
  const bundle = demoBundle();
  const rows: string[][] = [];
  for (const runs of [16, 64]) {
    const t = await measure(() => simulateBands(bundle, runs), { runs: 3 });
    rows.push([String(runs), ms(t.median_ms), ms(t.median_ms / runs)]);
  }
  printTable('Bands', ['runs', 'median ms', 'ms per run'], rows);
}

/** Timings of the engine by resolution, cells and pours. */
export async function bench(): Promise<void> {
  console.log(`Engine — ${machine()}`);
  await byResolution();
  await byCells();
  await byPours();
  await bands();
}
