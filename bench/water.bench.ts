import { performance } from 'node:perf_hooks';
import { type CarbonRule, makeWorkspace, solveEquilibrium } from '../core/src/water/equilibrium.ts';
import { type Composition, pureWater, speciate } from '../core/src/water/index.ts';
import { mediumAt } from '../core/src/water/medium.ts';
import { machine } from './measure.ts';
import { printTable } from './table.ts';

/** Waters over the whole range of taps, the same ones each time. */
function someWaters(n: number): Composition[] {
  let seed = 1;
  const next = () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    return seed / 2_147_483_648;
  };
  return Array.from({ length: n }, () => {
    const alkalinity = 1e-4 + 6e-3 * next();
    return {
      ...pureWater(),
      calcium: 3e-3 * next(),
      magnesium: 2e-3 * next(),
      sodium: 3e-3 * next(),
      potassium: 2e-3 * next(),
      sulfate: 2e-3 * next(),
      alkalinity,
      carbon: alkalinity * (0.8 + next()),
    };
  });
}

/** Best of several rounds: how many a second, by the clock and by the processor's own time. */
function rate(count: number, work: () => void): string[] {
  let clock = 0;
  let cpu = 0;
  for (let round = 0; round < 6; round++) {
    const started = performance.now();
    const before = process.cpuUsage().user;
    work();
    clock = Math.max(clock, count / (performance.now() - started));
    cpu = Math.max(cpu, count / ((process.cpuUsage().user - before) / 1000));
  }
  return [Math.round(1000 * clock).toLocaleString('en'), Math.round(1000 * cpu).toLocaleString('en')];
}

/** Speciations a second on one core. */
export async function bench(): Promise<void> {
  console.log(`\nWater — ${machine()}`);
  const waters = someWaters(50_000);
  const work = makeWorkspace();
  const rows: string[][] = [];
  const rules: [string, (c: Composition) => CarbonRule][] = [
    ['closed', (c) => ({ by: 'total', carbon: c.carbon })],
    ['open to air', () => ({ by: 'pressure', atm: 4e-4 })],
    ['by its pH', () => ({ by: 'pH', pH: 7.4 })],
  ];
  for (const celsius of [25, 93])
    for (const [name, rule] of rules) {
      const medium = mediumAt(celsius + 273.15);
      let iterations = 0;
      const run = () => {
        iterations = 0;
        for (const c of waters) iterations += solveEquilibrium(medium, c, rule(c), work).iterations;
      };
      const [clock, cpu] = rate(waters.length, run);
      rows.push([`${name}, ${celsius} °C`, (iterations / waters.length).toFixed(1), clock!, cpu!]);
    }
  const whole = () => {
    for (const c of waters) speciate(c);
  };
  rows.push(['whole result, closed, 25 °C', '', ...rate(waters.length, whole)]);
  printTable(
    'Speciation of 25 species on one core',
    ['how the carbon is fixed', 'Newton steps', 'per second', 'per processor second'],
    rows,
  );
}
