/** Writes `examples/demo-campaign.json` from the readable sources beside this file: `npx tsx scripts/demo/write.ts`. */
import { writeFileSync } from 'node:fs';
import { demoArchive } from './archive.ts';

const target = new URL('../../examples/demo-campaign.json', import.meta.url);
writeFileSync(target, `${JSON.stringify(demoArchive(), null, 2)}\n`);
