import { existsSync } from 'node:fs';
import { link, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { v4 as uuid4 } from 'uuid';
import { settle } from './backup.ts';
import { type Driver, errorCode, openDriver } from './driver.ts';
import { StoreError } from './errors.ts';
import { type Inspection, withWholeDatabase } from './inspect.ts';

export interface RestoreOptions {
  /** A backup, or any database of this program. It is only read. */
  from: string;
  /** Where the server looks for its database. */
  to: string;
  /** Must be true when there is a database at `to`. It is not lost: it is kept aside. */
  replace?: boolean;
  /** Clock, for the name of the file kept aside. */
  now?: () => Date;
}

export interface RestoreResult extends Inspection {
  file: string;
  /** Where the database that stood there before is now; null when there was none. */
  kept_aside: string | null;
}

/**
 * Puts a backup in place of the database. The backup is checked first, and copied beside the target before anything
 * is moved. The restored database gets a new history id, so that browsers that had seen more know to look again.
 * @throws StoreError `file_missing`, `not_a_database`, `damaged`, `newer_database`, `file_exists` (something is there
 * and `replace` is not set) or `in_use` (a server still has it open)
 */
export async function restore(options: RestoreOptions): Promise<RestoreResult> {
  const from = resolve(options.from);
  const file = resolve(options.to);
  if (from === file)
    throw new StoreError(
      'file_exists',
      `${file} cannot be restored from itself. Name the backup to restore from.`,
    );
  const part = `${file}.part`;
  await mkdir(dirname(file), { recursive: true });
  await rm(part, { force: true });
  try {
    const found = await withWholeDatabase(from, (driver, inspection) => {
      refuseToOverwrite(file, options.replace === true);
      driver.prepare('vacuum into ?').run([part]);
      return inspection;
    });
    await withWholeDatabase(part, beginNewHistory);
    await settle(part);
    const kept_aside = existsSync(file) ? await keepAside(file, (options.now ?? (() => new Date()))()) : null;
    await rename(part, file);
    await settle(dirname(file));
    return { ...found, file, kept_aside };
  } finally {
    await rm(part, { force: true });
  }
}

function refuseToOverwrite(file: string, replace: boolean): void {
  if (replace || !existsSync(file)) return;
  throw new StoreError(
    'file_exists',
    `There is a database at ${file} already. Ask to replace it; it will be kept aside under another name.`,
  );
}

function beginNewHistory(driver: Driver): void {
  driver.prepare("update facts set value = ? where key = 'history_id'").run([uuid4()]);
}

/** Gives the file a second name, so that at every moment one database stands at its place. */
async function keepAside(file: string, now: Date): Promise<string> {
  await refuseWhileInUse(file);
  const stamp = now.toISOString().replaceAll(':', '-');
  let aside = `${file}.before-${stamp}`;
  for (let n = 2; existsSync(aside); n++) aside = `${file}.before-${stamp}-${n}`;
  // What a damaged database left in its log belongs to it and must never meet the restored one.
  for (const tail of ['-wal', '-shm']) if (existsSync(file + tail)) await rename(file + tail, aside + tail);
  await link(file, aside).catch(() => rename(file, aside));
  return aside;
}

/** Whether a file begins like a database: sqlite.org/fileformat2.html section 1.3. */
async function isDatabase(file: string): Promise<boolean> {
  const handle = await open(file, 'r');
  try {
    const { buffer } = await handle.read(Buffer.alloc(16), 0, 16, 0);
    return buffer.toString('latin1') === 'SQLite format 3\0';
  } finally {
    await handle.close();
  }
}

/** Leaving write-ahead mode works only for the one connection there is, and folds the log into the file. */
async function refuseWhileInUse(file: string): Promise<void> {
  // Merely opening a file that is no database would remove the log beside it.
  if (!(await isDatabase(file))) return;
  let driver: Driver | undefined;
  try {
    driver = openDriver(file, 0);
    driver.rows('pragma journal_mode = delete');
  } catch (error) {
    if (errorCode(error).startsWith('SQLITE_BUSY'))
      throw new StoreError(
        'in_use',
        `The database ${file} is open in a running server. Stop it and try again.`,
        error,
      );
    // A damaged file cannot be asked; it is put aside as it is.
  } finally {
    await driver?.release();
  }
}
