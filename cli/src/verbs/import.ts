import type { Command } from 'commander';
import { withData, withStore } from '../data.ts';
import { readJson, stopWithProblems, toJson } from '../io.ts';

interface Options {
  data?: string;
  asNew?: boolean;
  author: string;
  json?: boolean;
}

async function run(file: string, options: Options): Promise<void> {
  const input = readJson(file);
  const done = await withStore(
    options,
    (store) =>
      store.importArchive(input, {
        asNew: options.asNew ?? false,
        author: options.author,
        device: 'command line',
      }),
    true,
  );
  if (done.outcome === 'invalid') stopWithProblems(done.problems, options.json ?? false);
  process.stdout.write(
    options.json
      ? toJson(done)
      : `Imported: ${done.saved} documents saved, ${done.unchanged} stood here already just so, ${done.attachments} new attachments.\n`,
  );
}

/** `import`: an archive → documents in the database. */
export function addImport(program: Command): void {
  withData(program.command('import'))
    .description(
      'take an archive in, all of it or nothing; what differs becomes a new revision, nothing is lost',
    )
    .argument('<archive>', 'archive of a campaign (JSON), or - for standard input')
    .option('--as-new', 'give every document a new id, so that a copy stands beside what is there')
    .option('--author <name>', 'who is said to have saved it', '')
    .option('--json', 'what was done, as JSON')
    .addHelpText(
      'after',
      '\nExamples\n  pourline import campaign.json\n  pourline demo | pourline import - --data /tmp/try',
    )
    .action(run);
}
