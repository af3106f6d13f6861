import { existsSync } from 'node:fs';
import { type Driver, openDriver } from './driver.ts';
import { asStoreError, StoreError } from './errors.ts';
import { migrations } from './migrations.ts';

/** What a database file holds. */
export interface Inspection {
  revisions: number;
  attachments: number;
  /** Moment the newest revision was taken in, ISO 8601; null when there is none. */
  newest: string | null;
}

/**
 * Opens a database file that nobody writes to, checks that it is whole and readable by this program, and hands it
 * over; closes it afterwards.
 * @throws StoreError `file_missing`, `not_a_database`, `damaged` or `newer_database`
 */
export async function withWholeDatabase<T>(
  file: string,
  use: (driver: Driver, found: Inspection) => T,
): Promise<T> {
  if (!existsSync(file)) throw new StoreError('file_missing', `There is no file ${file}.`);
  let driver: Driver | undefined;
  try {
    driver = openDriver(file, 0);
    return use(driver, inspect(driver, file));
  } catch (error) {
    throw asStoreError(error, file);
  } finally {
    await driver?.release();
  }
}

function inspect(driver: Driver, file: string): Inspection {
  const tables = driver.rows("select name from sqlite_schema where type in ('table', 'view')");
  const names = new Set(tables.map((row) => row.name));
  if (!['revisions', 'documents', 'attachments', 'kysely_migration'].every((name) => names.has(name)))
    throw new StoreError('not_a_database', `The file ${file} is not a database of this program.`);
  const unknown = driver
    .rows('select name from kysely_migration')
    .some((row) => !Object.hasOwn(migrations, String(row.name)));
  if (unknown)
    throw new StoreError(
      'newer_database',
      `The file ${file} was made by a newer version of the program. Update the program to use it.`,
    );
  const faults = driver.rows('pragma integrity_check').filter((row) => row.integrity_check !== 'ok');
  if (faults.length > 0)
    throw new StoreError('damaged', `The file ${file} is damaged: ${String(faults[0]?.integrity_check)}.`);
  const [row] = driver.rows(
    `select (select count(*) from revisions) as revisions, (select count(*) from attachments) as attachments,
      (select max(received_at) from revisions) as newest`,
  );
  return row as unknown as Inspection;
}
