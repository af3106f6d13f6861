import { openStore } from '../src/index.ts';
import { makeCampaign, makeRevision } from './fixtures.ts';

// Appends to the database named on the command line until it is killed, and says each revision that is on disk.
const store = await openStore({ file: process.argv[2] ?? '' });
const campaign = makeCampaign('Written by another process');
let base: string | null = null;
for (let n = 1; ; n++) {
  const result = await store.appendRevision(makeRevision({ ...campaign, notes: `state ${n}` }, base));
  if (result.outcome !== 'saved') throw new Error(JSON.stringify(result));
  base = result.revision.revision_id;
  process.stdout.write(`${result.revision.rev}\n`);
}
