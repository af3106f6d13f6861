import { ensureChromium } from './browser.mjs';
import { ensureBuilt } from './build.mjs';
import { ensureInstalled } from './install.mjs';
import { bin, duration } from './run.mjs';
import { sizeWithinBudget } from './size-budget.mjs';
import { countTests, vitestStage } from './vitest-stage.mjs';

const one = (ok) => ({ passed: ok ? 1 : 0, failed: ok ? 0 : 1, skipped: 0 });
/** Biome colours its lines even where nobody sees colours. */
const plain = () => (process.env.NO_COLOR ? ['--colors=off'] : []);
/** One file at a time: these start servers and browsers, and some measure what a person would wait for. */
const ALONE = '--no-file-parallelism';
const SLOW = '**/*.slow.test.ts';
const BROWSER = '**/*.browser.test.ts';

/** Every stage of the tests, in order. `quick` ones are enough between two edits. */
const STAGES = [
  { name: 'types', quick: true, run: async () => one((await bin('typescript/bin/tsc', ['-p', '.'])) === 0) },
  {
    name: 'lint',
    quick: true,
    run: async () => one((await bin('@biomejs/biome/bin/biome', ['ci', ...plain(), '.'])) === 0),
  },
  {
    name: 'unit',
    quick: true,
    run: () => vitestStage('unit', [`--exclude=${SLOW}`, `--exclude=${BROWSER}`]),
  },
  { name: 'slow', run: () => vitestStage('slow', ['.slow.test.ts', ALONE], { POURLINE_SLOW: '1' }) },
  { name: 'build', run: async () => one(await ensureBuilt()) },
  { name: 'size', run: async () => one(sizeWithinBudget()) },
  {
    name: 'browser',
    run: async ({ chromium }) => {
      const filter = '.browser.test.ts';
      if (chromium !== null && (await ensureBuilt()))
        return vitestStage('browser', [filter, ALONE], { POURLINE_BROWSER: '1', CHROMIUM_PATH: chromium });
      const failed = await countTests('browser', [filter], { POURLINE_BROWSER: '1' });
      console.error(`The ${failed} browser tests could not run, so they count as failed.`);
      return { passed: 0, failed, skipped: 0 };
    },
  },
];

/**
 * Runs the tests and ends with one line of totals. `--quick` leaves out what takes long; `--only NAME` runs one
 * stage. Resolves to the exit code.
 */
export async function testAll(args) {
  if (!process.stdout.isTTY) process.env.NO_COLOR ??= '1';
  if (process.env.NO_COLOR) delete process.env.FORCE_COLOR;
  const quick = args.includes('--quick');
  const only = args.includes('--only') ? args[args.indexOf('--only') + 1] : null;
  const stages = STAGES.filter((stage) => (only ? stage.name === only : !quick || stage.quick));
  if (stages.length === 0) {
    console.error(`There is no stage "${only}"; there are ${STAGES.map((stage) => stage.name).join(', ')}.`);
    return 1;
  }
  const sum = { passed: 0, failed: 0, skipped: 0 };
  const rows = [];
  const timed = async (name, work) => {
    console.log(`\n== ${name}`);
    const began = performance.now();
    const totals = await work();
    rows.push({ name, ...totals, took: duration(performance.now() - began) });
    for (const key of Object.keys(sum)) sum[key] += totals[key];
    return totals;
  };

  const found = { chromium: null };
  const install = await timed('install', async () => {
    const ok = await ensureInstalled();
    if (ok && stages.some((stage) => stage.name === 'browser')) found.chromium = await ensureChromium();
    return ok ? { passed: 0, failed: 0, skipped: 0 } : one(false);
  });
  if (install.failed === 0) for (const stage of stages) await timed(stage.name, () => stage.run(found));

  console.log('');
  for (const row of rows)
    console.log(
      `${row.name.padEnd(8)} ${row.took.padStart(8)}   ${row.passed} passed, ${row.failed} failed, ${row.skipped} skipped`,
    );
  const left = STAGES.filter((stage) => !stages.includes(stage)).map((stage) => stage.name);
  if (left.length > 0) console.log(`Not run: ${left.join(', ')}`);
  console.log(`${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped`);
  return sum.failed > 0 ? 1 : 0;
}
