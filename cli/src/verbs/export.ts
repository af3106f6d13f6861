import type { Command } from 'commander';
import { campaignIn, withData, withStore } from '../data.ts';
import { EXIT, Stop } from '../exit.ts';
import { writeText } from '../io.ts';

interface Options {
  data?: string;
  campaign?: string;
  out?: string;
  force?: boolean;
}

async function run(options: Options): Promise<void> {
  const { archiveText } = await import('@pourline/store');
  const archive = await withStore(options, async (store) => {
    const campaign = await campaignIn(store, options.campaign);
    const found = await store.exportCampaign(campaign.id);
    if (!found) throw new Stop(EXIT.notFound, `There is no campaign ${campaign.id}.`);
    return found;
  });
  writeText(options.out, archiveText(archive), options.force);
  if (options.out !== undefined && options.out !== '-')
    process.stderr.write(
      `Wrote ${options.out}: ${archive.documents.length} documents, ${archive.attachments.length} attachments.\n`,
    );
}

/** `export`: a saved campaign → one readable archive. */
export function addExport(program: Command): void {
  withData(program.command('export'))
    .description('write one saved campaign with its attachments as a readable JSON archive')
    .option('-c, --campaign <name>', 'name or id; not needed when there is only one')
    .option('-o, --out <file>', 'write here instead of standard output')
    .option('--force', 'replace the file when it is already there')
    .option('--json', 'said for symmetry: the answer is always JSON')
    .addHelpText(
      'after',
      '\nExamples\n  pourline export --out campaign.json\n  pourline export --campaign "My final" --data ~/brews',
    )
    .action(run);
}
