import type { Command } from 'commander';
import { databaseOf, tellStoreFaults, withData } from '../data.ts';
import { toJson } from '../io.ts';

async function run(
  from: string,
  options: { data?: string; replace?: boolean; json?: boolean },
): Promise<void> {
  const { restore } = await import('@pourline/store');
  const done = await tellStoreFaults(() =>
    restore({ from, to: databaseOf(options), replace: options.replace ?? false }),
  );
  const aside = done.kept_aside === null ? '' : ` What was there before is kept as ${done.kept_aside}.`;
  process.stdout.write(
    options.json ? toJson(done) : `Restored ${done.revisions} revisions to ${done.file}.${aside}\n`,
  );
}

/** `restore`: a backup → the database. */
export function addRestore(program: Command): void {
  withData(program.command('restore'))
    .description(
      'put a backup in place of the database; the backup is checked first, the old database kept aside',
    )
    .argument('<backup>', 'file that `backup` made')
    .option('--replace', 'needed when there is a database already')
    .option('--json', 'what was done, as JSON')
    .addHelpText(
      'after',
      '\nStop the server first.\n\nExamples\n  pourline restore before-the-trip.sqlite --replace',
    )
    .action(run);
}
