import { type BrewBundle, defaultParameters } from '@pourline/core';
import type { BrewCase } from '../../core/src/brew/case.ts';
import { compileCase, grindTable } from '../../core/src/brew/compile.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { cutTable } from '../../core/src/grind/index.ts';
import { demoBundle } from '../demo-bundle.ts';
import { growth } from '../measure.ts';
import { printTable } from '../table.ts';
import { ms, timesOf } from './cpu.ts';

/** A size that grows, and the case at each. */
interface Series {
  what: string;
  sizes: readonly number[];
  at: (size: number) => BrewCase;
}

/** The same water, 200 g from 0 to 120 s, in `n` pours with a short rest after each. */
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
  return { ...bundle, plan: { ...bundle.plan, pours } };
}

function seriesOf(): Series[] {
  const bundle = demoBundle();
  const p = defaultParameters();
  const c = compileCase(bundle, p, 'standard');
  const table = grindTable(bundle);
  return [
    {
      what: 'cells',
      sizes: [8, 16, 32, 64, 128],
      at: (cells) => ({ ...c, numerics: { ...c.numerics, cells } }),
    },
    {
      what: 'size classes',
      sizes: [2, 4, 8, 16, 32],
      at: (classes) => ({ ...c, sizes: cutTable(table, classes, p.finesLimit) }),
    },
    {
      what: 'solutes',
      sizes: [1, 2, 4, 8, 16, 32],
      at: (n) => ({
        ...c,
        solutes: Array.from({ length: n }, (_, k) => ({ ...c.solutes[k % c.solutes.length]!, key: `s${k}` })),
      }),
    },
    {
      what: 'bins of release',
      sizes: [4, 8, 16, 32, 64],
      at: (bins) => ({ ...c, numerics: { ...c.numerics, bins } }),
    },
    {
      what: 'paths',
      sizes: [1, 2, 4],
      at: (n) => ({
        ...c,
        bed: {
          ...c.bed,
          paths: Array.from({ length: n }, (_, k) => ({
            share: 1 / n,
            permeability: n === 1 ? 1 : 0.8 + (0.4 * k) / (n - 1),
          })),
        },
      }),
    },
    { what: 'pours', sizes: [1, 2, 4, 8, 16], at: (n) => compileCase(inPours(bundle, n), p, 'standard') },
  ];
}

/** How one standard run grows with each of its sizes, the others left as they are. */
export function byScale(): void {
  const summary: string[][] = [];
  for (const { what, sizes, at } of seriesOf()) {
    const rows: string[][] = [];
    const perRun: number[] = [];
    const perStep: number[] = [];
    for (const size of sizes) {
      const c = at(size);
      const { steps, rejected } = runCase(c);
      const { wall, cpu } = timesOf(() => runCase(c), { runs: 20, most_ms: 600 });
      const tries = steps + rejected;
      perRun.push(cpu.median_ms);
      perStep.push(cpu.median_ms / tries);
      rows.push([
        String(size),
        `${steps}+${rejected}`,
        ms(wall.median_ms),
        ms(cpu.median_ms),
        ms(cpu.p90_ms),
        ((1e3 * cpu.median_ms) / tries).toFixed(1),
      ]);
    }
    printTable(
      `One standard run by ${what} [ms]`,
      [what, 'steps+tries', 'wall', 'cpu', 'cpu p90', 'cpu µs per try'],
      rows,
    );
    const last = sizes.length - 2;
    summary.push([
      what,
      growth(sizes, perRun).toFixed(2),
      growth(sizes, perStep).toFixed(2),
      growth(sizes.slice(last), perRun.slice(last)).toFixed(2),
    ]);
  }
  printTable(
    'Growth: exponent b of cpu = a·sizeᵇ; 1 is linear, less means that other work is shared',
    ['size', 'per run', 'per try', 'per run, last two'],
    summary,
  );
}
