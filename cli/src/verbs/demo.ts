import { readFileSync } from 'node:fs';
import type { Command } from 'commander';
import { inCheckout } from '../checkout.ts';
import { writeText } from '../io.ts';

/** Text of the demo archive that comes with the project. */
export const demoText = (): string => readFileSync(inCheckout('examples/demo-campaign.json'), 'utf8');

function run(options: { out?: string; force?: boolean }): void {
  writeText(options.out, demoText(), options.force);
  if (options.out !== undefined && options.out !== '-') process.stderr.write(`Wrote ${options.out}.\n`);
}

/** `demo`: → the demo archive. */
export function addDemo(program: Command): void {
  program
    .command('demo')
    .description('print the invented demo campaign as an archive, or write it to a file')
    .option('-o, --out <file>', 'write here instead of standard output')
    .option('--force', 'replace the file when it is already there')
    .option('--json', 'said for symmetry: the answer is always JSON')
    .addHelpText('after', '\nExamples\n  pourline demo --out demo.json\n  pourline demo | pourline check -')
    .action(run);
}
