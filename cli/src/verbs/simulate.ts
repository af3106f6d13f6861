import {
  type Bands,
  bedVisits,
  checkBundle,
  type Fit,
  type LearnedBands,
  predictWith,
  readFit,
  simulate,
  simulateBands,
  simulateLearned,
  whatExplains,
  whatMatters,
} from '@pourline/core';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { bundleFrom, readArchive } from '../archive.ts';
import { readJson, stopWithProblems, toJson } from '../io.ts';
import { brewText } from '../text/brew.ts';
import { explainsText, mattersText } from '../text/matters.ts';

interface Options {
  plan?: string;
  resolution: 'draft' | 'standard' | 'reference';
  bands?: number;
  learned?: string;
  near?: number;
  matters?: number;
  explains?: number;
  json?: boolean;
}

/** Reads a whole number within limits. */
const whole =
  (low: number, high: number) =>
  (text: string): number => {
    const n = Number(text);
    if (text.trim() === '' || !Number.isInteger(n) || n < low || n > high)
      throw new InvalidArgumentError(`"${text}" is not a whole number from ${low} to ${high}.`);
    return n;
  };

/** Shows how far long work is, on a screen only. */
const showing =
  (what: string) =>
  (done: number): boolean => {
    if (process.stderr.isTTY) {
      process.stderr.write(`\r${what}: ${Math.round(done * 100)} %`);
      if (done >= 1) process.stderr.write('\r\u001b[K');
    }
    return true;
  };

function celsius(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !(value >= -25 && value <= 101))
    throw new InvalidArgumentError(`"${text}" is not a temperature from -25 to 101 °C.`);
  return value;
}

/** How close counts as near [K]. */
const NEAR_K = 2;

/** A fit that was kept, or null when none is asked for. */
function fitFrom(path: string | undefined, json: boolean): Fit | null {
  if (path === undefined) return null;
  const fit = readFit(readJson(path));
  return fit.ok ? fit.value : stopWithProblems(fit.problems, json);
}

/** Learned bands as the others are shown: where the next brew will be measured, and what is not known over time. */
const asBands = (b: LearnedBands): Bands => ({
  runs: b.runs,
  ...b.next,
  time_s: Float64Array.from(b.time_s),
  beverage_low_g: Float64Array.from(b.beverage_low_g),
  beverage_high_g: Float64Array.from(b.beverage_high_g),
  strength_low_pct: Float64Array.from(b.strength_low_pct),
  strength_high_pct: Float64Array.from(b.strength_high_pct),
  bed_low_C: Float64Array.from(b.bed_low_C),
  bed_high_C: Float64Array.from(b.bed_high_C),
});

function run(file: string, options: Options): void {
  const json = options.json ?? false;
  const bundle = bundleFrom(readArchive(file, json), options.plan);
  if (!bundle.ok) stopWithProblems(bundle.problems, json);
  const met = checkBundle(bundle.value);
  const wrong = met.filter((p) => p.level === 'problem');
  if (wrong.length > 0) stopWithProblems(wrong, json);
  const cautions = met.filter((p) => p.level === 'caution');
  const fit = fitFrom(options.learned, json);
  const resolution = { resolution: options.resolution };
  const result = fit ? simulateLearned(fit, bundle.value, resolution) : simulate(bundle.value, resolution);
  const near = options.near === undefined ? null : bedVisits(result.trace, options.near, NEAR_K);
  const learned =
    fit && predictWith(fit, bundle.value, { runs: options.bands ?? 1, progress: showing('Bands') });
  const bands =
    options.bands === undefined
      ? null
      : learned
        ? asBands(learned)
        : simulateBands(bundle.value, options.bands, showing('Bands'));
  const matters =
    options.matters === undefined
      ? null
      : whatMatters(bundle.value, { trajectories: options.matters, progress: showing('What matters') });
  const explains =
    options.explains === undefined
      ? null
      : whatExplains(bundle.value, { samples: options.explains, progress: showing('What explains') });
  process.stdout.write(
    json
      ? toJson({ ...result, bands, learned, near, matters, explains, cautions })
      : [
          brewText(bundle.value, result, { bands, near, near_C: options.near ?? 0, cautions }),
          ...(learned?.findings ?? []).map(({ sentence }) => `${sentence}\n`),
          ...(matters ? mattersText(matters).map((line) => `${line}\n`) : []),
          ...(explains ? explainsText(explains).map((line) => `${line}\n`) : []),
        ].join(''),
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
    .option('-b, --bands <runs>', 'also the 5–95 % bands from that many runs', whole(2, 10_000))
    .option(
      '-l, --learned <file>',
      'with what trials taught: a fit that `pourline fit --out` kept; bands are then those of the next brew',
    )
    .option(
      '-n, --near <celsius>',
      `also where and when the bed was within ${NEAR_K} K of that temperature`,
      celsius,
    )
    .option(
      '-m, --matters <rounds>',
      'also what moves the figures: that many rounds of screening (8 is plenty), a hundred draft runs each',
      whole(1, 1_000),
    )
    .option(
      '-e, --explains <rows>',
      'also which share of the spread each input explains: 128 rows or more, a hundred draft runs each',
      whole(2, 65_536),
    )
    .option(
      '--json',
      'the whole result as JSON: times in s, arrays over time_s; what was not asked for is null',
    )
    .addHelpText(
      'after',
      `
Examples
  pourline simulate demo.json --plan "Four pours, cool then hot"
  pourline simulate demo.json --plan "Five pours in the cone" --bands 64 --near 60
  pourline simulate demo.json --plan "Five pours in the cone" --matters 8
  pourline demo | pourline simulate - --plan "Four pours, at the hall" --json`,
    )
    .action(run);
}
