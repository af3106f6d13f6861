import { mkdir } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { Kysely, sql } from 'kysely';
import { ImmediateDialect } from './dialect.ts';
import { type Driver, openDriver } from './driver.ts';
import { asStoreError } from './errors.ts';
import { migrate } from './migrations.ts';
import type { Database, Tables } from './schema.ts';

/** An open database file with its schema up to date. */
export interface OpenDatabase {
  db: Database;
  driver: Driver;
  /** Absolute path. */
  file: string;
}

/** How long to wait for another process that is writing [ms]. */
export const BUSY_MS = 5_000;

/**
 * Opens a database file and brings its schema up to date; makes file and folder when they are not there.
 * @throws StoreError when the file cannot be opened or is not a database
 */
export async function openDatabase(path: string): Promise<OpenDatabase> {
  const file = resolve(path);
  let driver: Driver | undefined;
  try {
    await mkdir(dirname(file), { recursive: true });
    driver = openDriver(file, BUSY_MS);
    driver.rows('pragma journal_mode = wal');
    // A reply means it is on disk: every commit waits for the disk.
    driver.exec('pragma synchronous = full; pragma foreign_keys = on; pragma trusted_schema = off');
    const db = new Kysely<Tables>({ dialect: new ImmediateDialect(driver) });
    await migrate(db);
    return { db, driver, file };
  } catch (error) {
    await driver?.release();
    throw asStoreError(error, file);
  }
}

/** {@link Store.integrityCheck} */
export async function integrityProblems(db: Database): Promise<string[]> {
  const whole = await sql<{ integrity_check: string }>`pragma integrity_check`.execute(db);
  const found = whole.rows.map((row) => row.integrity_check).filter((text) => text !== 'ok');
  const broken = await sql<{ document_id: string; rev: number }>`select r.document_id, r.rev from revisions r
    left join revisions p on p.document_id = r.document_id and p.rev = r.rev - 1
    where r.rev > 1 and p.revision_id is not r.base_revision_id`.execute(db);
  const links = broken.rows.map(
    (row) => `revision ${row.rev} of ${row.document_id} does not follow the one before`,
  );
  return [...found, ...links];
}
