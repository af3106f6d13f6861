import { bedVisits, checkBundle, simulate, simulateBands } from '@pourline/core';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { bundleFrom, readArchive } from '../archive.ts';
import { stopWithProblems, toJson } from '../io.ts';
import { brewText } from '../text/brew.ts';

interface Options {
  plan?: string;
  resolution: 'draft' | 'standard' | 'reference';
  bands?: number;
  near?: number;
  json?: boolean;
}

function runs(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 2 || n > 10_000)
    throw new InvalidArgumentError(`"${text}" is not a whole number from 2 to 10000.`);
  return n;
}

function celsius(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !(value >= -25 && value <= 101))
    throw new InvalidArgumentError(`"${text}" is not a temperature from -25 to 101 °C.`);
  return value;
}

/** How close counts as near [K]. */
const NEAR_K = 2;

function run(file: string, options: Options): void {
  const json = options.json ?? false;
  const bundle = bundleFrom(readArchive(file, json), options.plan);
  if (!bundle.ok) stopWithProblems(bundle.problems, json);
  const met = checkBundle(bundle.value);
  const wrong = met.filter((p) => p.level === 'problem');
  if (wrong.length > 0) stopWithProblems(wrong, json);
  const cautions = met.filter((p) => p.level === 'caution');
  const result = simulate(bundle.value, { resolution: options.resolution });
  const near = options.near === undefined ? null : bedVisits(result.trace, options.near, NEAR_K);
  const bands = options.bands === undefined ? null : simulateBands(bundle.value, options.bands);
  process.stdout.write(
    json
      ? toJson({ ...result, bands, near, cautions })
      : brewText(bundle.value, result, { bands, near, near_C: options.near ?? 0, cautions }),
  );
}

/** `simulate`: a plan of an archive → the predicted brew. */
export function addSimulate(program: Command): void {
  program
    .command('simulate')
    .description('predict the brew of a plan: strip, cup, pours, remarks')
    .argument('<archive>', 'archive of a campaign (JSON), or - for standard input')
    .option('-p, --plan <name>', 'name or id of the plan; not needed when there is only one')
    .addOption(
      new Option('-r, --resolution <how>', 'how finely to compute')
        .choices(['draft', 'standard', 'reference'])
        .default('standard'),
    )
    .option('-b, --bands <runs>', 'also the 5–95 % bands from that many runs', runs)
    .option(
      '-n, --near <celsius>',
      `also where and when the bed was within ${NEAR_K} K of that temperature`,
      celsius,
    )
    .option('--json', 'the whole result as JSON: times in s, arrays over time_s, bands and near or null')
    .addHelpText(
      'after',
      `
Examples
  pourline simulate demo.json --plan "Four pours, cool then hot"
  pourline simulate demo.json --plan "Five pours in the cone" --bands 64 --near 60
  pourline demo | pourline simulate - --plan "Four pours, at the hall" --json`,
    )
    .action(run);
}
