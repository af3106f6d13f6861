import type { Command } from 'commander';
import { withData, withStore } from '../data.ts';
import { toJson } from '../io.ts';

async function run(options: { data?: string; out: string; json?: boolean }): Promise<void> {
  const done = await withStore(options, (store) => store.backup(options.out));
  process.stdout.write(
    options.json
      ? toJson(done)
      : `Backed up ${done.revisions} revisions to ${done.file} (${(done.bytes / 1000).toFixed(0)} kB), checked.\n`,
  );
}

/** `backup`: the database → one file, consistent even while a server writes. */
export function addBackup(program: Command): void {
  withData(program.command('backup'))
    .description('copy the whole database to a new file, also while the server runs; the copy is checked')
    .requiredOption('-o, --out <file>', 'the new file')
    .option('--json', 'what was done, as JSON')
    .addHelpText('after', '\nExamples\n  pourline backup --out before-the-trip.sqlite')
    .action(run);
}
