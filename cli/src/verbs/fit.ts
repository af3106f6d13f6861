import { fitTrials, gatherTrials } from '@pourline/core';
import { type Command, InvalidArgumentError } from 'commander';
import { pick, readArchive } from '../archive.ts';
import { stopWithProblems, toJson, writeText } from '../io.ts';
import { fitText } from '../text/fit.ts';

interface Options {
  coffee?: string;
  seed?: number;
  out?: string;
  force?: boolean;
  json?: boolean;
}

function seedOf(text: string): number {
  const n = Number(text);
  if (text.trim() === '' || !Number.isInteger(n) || Math.abs(n) > 2 ** 31 - 1)
    throw new InvalidArgumentError(`"${text}" is not a whole number of at most ten digits.`);
  return n;
}

const STAGES = { engine: 'Brewing', sample: 'Drawing', lessons: 'Leaving out' } as const;

/** Shows how far it is: on a screen in place, elsewhere a line at every tenth. */
function shower(): (done: number, stage: keyof typeof STAGES) => boolean {
  let tenth = 0;
  return (done, stage) => {
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${STAGES[stage]}: ${Math.round(done * 100)} %`);
    else if (Math.floor(done * 10) > tenth) {
      tenth = Math.floor(done * 10);
      process.stderr.write(`${STAGES[stage]}: ${tenth * 10} %\n`);
    }
    return true;
  };
}

function run(file: string, options: Options): void {
  const json = options.json ?? false;
  const { documents } = readArchive(file, json);
  const coffees = documents.flatMap((d) => (d.kind === 'coffee' && !d.archived ? [d] : []));
  const coffee = options.coffee === undefined ? null : pick('coffee', coffees, options.coffee).id;
  const gathered = gatherTrials(documents, coffee);
  if (!gathered.ok) stopWithProblems(gathered.problems, json);
  const outcome = fitTrials(gathered.value, {
    progress: shower(),
    ...(options.seed !== undefined && { seed: options.seed }),
  });
  if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
  if (outcome.outcome === 'refused') stopWithProblems(outcome.problems, json);
  if (outcome.outcome === 'stopped') return;
  if (options.out !== undefined) writeText(options.out, toJson(outcome.fit), options.force);
  process.stdout.write(json ? toJson(outcome.fit) : fitText(outcome.fit));
}

/** `fit`: the trials of a coffee → what they teach of it. */
export function addFit(program: Command): void {
  program
    .command('fit')
    .description(
      'what the trials of a coffee teach: its own constants with their bands, and what each brew told',
    )
    .argument('<archive>', 'archive of a campaign (JSON), or - for standard input')
    .option('-c, --coffee <name>', 'name or id of the coffee; not needed when only one has trials')
    .option('-s, --seed <n>', 'seed of the draws; the same seed gives the same answer', seedOf)
    .option('-o, --out <file>', 'keep the fit in a file, for simulate --learned')
    .option('--force', 'replace that file when it is there')
    .option('--json', 'the whole fit as JSON')
    .addHelpText(
      'after',
      `
Progress goes to standard error. Marks before sentences: ! caution, # to be put right first.

Examples
  pourline fit demo.json --coffee "Velumbra washed"
  pourline fit demo.json --coffee "Velumbra washed" --out washed-fit.json
  pourline simulate demo.json --plan "Four pours, cool then hot" --learned washed-fit.json --bands 64`,
    )
    .action(run);
}
