import { existsSync } from 'node:fs';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { sql } from 'kysely';
import { StoreError } from './errors.ts';
import { withWholeDatabase } from './inspect.ts';
import type { Database } from './schema.ts';
import type { BackupResult } from './types.ts';

/** {@link Store.backup}: written beside the target, checked, and only then given its name. */
export async function backup(db: Database, toFile: string): Promise<BackupResult> {
  const file = resolve(toFile);
  if (existsSync(file))
    throw new StoreError(
      'file_exists',
      `The file ${file} is there already. Choose another name for the backup.`,
    );
  await mkdir(dirname(file), { recursive: true });
  const part = `${file}.part`;
  await rm(part, { force: true });
  try {
    await sql`vacuum into ${part}`.execute(db);
    const revisions = await withWholeDatabase(part, (_, found) => found.revisions);
    await settle(part);
    await rename(part, file);
    await settle(dirname(file));
    return { file, bytes: (await stat(file)).size, revisions };
  } finally {
    await rm(part, { force: true });
  }
}

/** Waits until a file or folder is on disk. */
export async function settle(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
