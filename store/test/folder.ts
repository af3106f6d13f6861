import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach } from 'vitest';

/** Makes a fresh folder at each call; removes them all after each test. */
export function temporaryFolders(): () => Promise<string> {
  const made: string[] = [];
  afterEach(async () => {
    for (const folder of made.splice(0)) await rm(folder, { recursive: true, force: true });
  });
  return async () => {
    const folder = await mkdtemp(join(tmpdir(), 'pourline-'));
    made.push(folder);
    return folder;
  };
}
