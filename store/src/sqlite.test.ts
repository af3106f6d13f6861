import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { storeContract } from '../test/contract.ts';
import { openStore } from './open-store.ts';

storeContract('SQLite', () => {
  let folder = '';
  return {
    open: async () => {
      folder = await mkdtemp(join(tmpdir(), 'store-'));
      return openStore({ file: join(folder, 'pourline.sqlite') });
    },
    dispose: () => rm(folder, { recursive: true, force: true }),
  };
});
