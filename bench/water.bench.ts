import { performance } from 'node:perf_hooks';
import { type CarbonRule, makeWorkspace, solveEquilibrium } from '../core/src/water/equilibrium.ts';
import {
  type Composition,
  pureWater,
  type SaltForm,
  solveWaters,
  solveWithConcentrates,
  speciate,
  type Target,
  USUAL_METER,
  usualInstruments,
  type WaterOrder,
} from '../core/src/water/index.ts';
import { mediumAt } from '../core/src/water/medium.ts';
import { growth, machine, measure } from './measure.ts';
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

function speciations(): void {
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

const SHELF: readonly SaltForm[] = [
  { salt: 'magnesium_sulfate', hydrate: 7 },
  { salt: 'calcium_chloride', hydrate: 2 },
  { salt: 'sodium_bicarbonate', hydrate: 0 },
  { salt: 'potassium_bicarbonate', hydrate: 0 },
  { salt: 'magnesium_chloride', hydrate: 6 },
  { salt: 'sodium_chloride', hydrate: 0 },
  { salt: 'potassium_chloride', hydrate: 0 },
  { salt: 'calcium_sulfate', hydrate: 2 },
  { salt: 'potassium_carbonate', hydrate: 1.5 },
  { salt: 'sodium_carbonate', hydrate: 0 },
  { salt: 'calcium_hydroxide', hydrate: 0 },
  { salt: 'calcium_chloride', hydrate: 0 },
];

const asked = (of: Target['of'], aim: number): Target => ({
  of,
  aim,
  low: null,
  high: null,
  weight: 1,
  hard: false,
});

/** Some waters that differ from each other, from so many jars. */
const orderOf = (salts: number, waters: number, curved = false): WaterOrder => ({
  waters: Array.from({ length: waters }, (_, i) => ({
    id: `w${i}`,
    name: `Water ${i}`,
    batch_g: 2000,
    poured_g: 100,
    targets: [
      asked('calcium', 8 + 3 * i),
      asked('magnesium', 4 + 2 * i),
      asked('alkalinity', 18 + 7 * i),
      asked('chloride', 14 + 4 * i),
      asked('sulfate', 12 + 5 * i),
      ...(curved ? [asked('conductivity', 120 + 40 * i)] : []),
    ],
  })),
  bases: [],
  jars: SHELF.slice(0, salts).map((form, i) => ({
    id: `s${i}`,
    name: form.salt,
    form,
    assay_pct: [99, 101],
    amount_g: null,
    price_per_kg: 10,
  })),
  concentrates: [],
  instruments: usualInstruments(USUAL_METER),
});

async function recipes(): Promise<void> {
  const rows: string[][] = [];
  const put = async (name: string, work: () => { stats: { solved: number } }) => {
    const { stats } = work();
    const t = await measure(work);
    rows.push([name, String(stats.solved), t.median_ms.toFixed(2), t.p90_ms.toFixed(2)]);
    return t.median_ms;
  };
  const salts = [4, 6, 8, 10, 12];
  const bySalts: number[] = [];
  for (const n of salts) bySalts.push(await put(`2 waters, ${n} salts`, () => solveWaters(orderOf(n, 2))));
  const waters = [1, 2, 4, 8];
  const byWaters: number[] = [];
  for (const n of waters) byWaters.push(await put(`${n} waters, 8 salts`, () => solveWaters(orderOf(8, n))));
  await put('2 waters, 8 salts, and a conductivity', () => solveWaters(orderOf(8, 2, true)));
  await put(
    '2 waters, 8 salts, by way of concentrates',
    () => solveWithConcentrates(orderOf(8, 2), { given_by: 'syringe', batches: 3, container_mL: 100 }).solved,
  );
  printTable(
    'Recipes in whole steps, with spread, reading and remarks',
    ['order', 'problems solved', 'median ms', 'p90 ms'],
    rows,
  );
  console.log(
    `Time grows as salts^${growth(salts, bySalts).toFixed(2)} and waters^${growth(waters, byWaters).toFixed(2)}`,
  );
}

/** Speciations a second, and the time of recipes as salts and waters become more. */
export async function bench(): Promise<void> {
  console.log(`\nWater — ${machine()}`);
  speciations();
  await recipes();
}
