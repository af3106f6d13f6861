/**
 * Writes `docs/validation.md` and its plots: `npx tsx scripts/validation/write.ts [--plans=200]`. The number of random plans decides how long
 * it takes.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { CORE_VERSION } from '@pourline/core';
import { convergencePlot } from './brew-plots.ts';
import { outcomeOf } from './check.ts';
import { CHECKS, GAPS } from './checks/index.ts';
import { convergenceTables, sampleResolutions } from './convergence.ts';
import { ENOUGH_PLANS, numericsChecks } from './numerics-checks.ts';
import { plots } from './plots.ts';
import { reportOf } from './report.ts';
import { drawPlot } from './svg.ts';

/** Fewer say nothing, and may hold no cup at all. */
const FEWEST_PLANS = 20;
const MOST_PLANS = 10_000;
const docs = fileURLToPath(new URL('../../docs/', import.meta.url));

/** Reads `--plans=`; null when it is not a whole number of plans. */
function plansAsked(args: readonly string[]): number | null {
  const given = args.find((arg) => arg.startsWith('--plans='))?.slice('--plans='.length);
  if (given === undefined) return ENOUGH_PLANS;
  const plans = Number(given);
  return Number.isInteger(plans) && plans >= FEWEST_PLANS && plans <= MOST_PLANS ? plans : null;
}

function write(plans: number): void {
  const outcomes = CHECKS.map((check) => {
    const outcome = outcomeOf(check);
    console.log(`${check.id.padEnd(14)} ${outcome.verdict}`);
    return outcome;
  });
  const tables = convergenceTables();
  const tick = (done: number) => {
    if (done % 20 === 0) console.log(`${done} of ${plans} plans`);
  };
  const sample = sampleResolutions('servable', plans, tick);
  const numerics = numericsChecks(tables, sample, sampleResolutions('any', plans, tick)).map(outcomeOf);
  for (const { check, verdict } of numerics) console.log(`${check.id.padEnd(14)} ${verdict}`);
  const drawn = [...plots(), convergencePlot(tables)];
  const folder = `${docs}validation/`;
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder)) if (name.endsWith('.svg')) rmSync(folder + name);
  for (const { name, plot } of drawn) writeFileSync(`${folder}${name}.svg`, drawPlot(plot));
  const report = reportOf({
    outcomes,
    numerics,
    gaps: GAPS,
    tables,
    sample,
    plots: drawn,
    version: CORE_VERSION,
  });
  writeFileSync(`${docs}validation.md`, report);
  execFileSync('npx', ['--no-install', 'biome', 'format', '--write', `${docs}validation.md`]);
}

const plans = plansAsked(process.argv.slice(2));
if (plans === null) {
  console.error(
    `--plans must be a whole number from ${FEWEST_PLANS} to ${MOST_PLANS}, for example --plans=${ENOUGH_PLANS}.`,
  );
  process.exitCode = 2;
} else write(plans);
