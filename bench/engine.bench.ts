import { simulateBands } from '@pourline/core';
import { demoBundle } from './demo-bundle.ts';
import { compare } from './engine/compare.ts';
import { ms, timesOf } from './engine/cpu.ts';
import { memory } from './engine/memory.ts';
import { byScale } from './engine/scaling.ts';
import { byScipy } from './engine/scipy.ts';
import { byResolution, byWorkers } from './engine/speed.ts';
import { machine } from './measure.ts';
import { printTable } from './table.ts';

function bands(): void {
  const bundle = demoBundle();
  const rows = [16, 64].map((runs) => {
    const { wall, cpu } = timesOf(() => simulateBands(bundle, runs), { runs: 3 });
    return [String(runs), ms(wall.median_ms), ms(cpu.median_ms), ms(cpu.median_ms / runs)];
  });
  printTable('Bands [ms]', ['runs', 'wall', 'cpu', 'cpu per run'], rows);
}

/** Times of the engine, how they grow, what a run allocates, and the same equations through general solvers. */
export async function bench(): Promise<void> {
  console.log(`Engine — ${machine()}; medians unless it says p90`);
  byResolution();
  await byWorkers();
  byScale();
  await memory();
  bands();
  await compare('standard');
  await compare('draft', byScipy);
}
