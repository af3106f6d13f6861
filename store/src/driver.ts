import { setImmediate as afterCallbacks } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { SqliteDatabase, SqliteStatement } from 'kysely';
import Libsql from 'libsql';

/**
 * The one file that knows which SQLite library is in use. To change the library, change this file: everything else
 * speaks {@link Driver}.
 */
export interface Driver extends SqliteDatabase {
  /** Runs statements that give no rows. */
  exec(sql: string): void;
  /** Runs one statement and gives its rows. */
  rows(sql: string, parameters?: readonly unknown[]): Record<string, unknown>[];
  /** Closes the file. Waits until the library has really let go of it. */
  release(): Promise<void>;
}

/** Statements kept prepared; the store uses about thirty different ones. */
const KEPT_STATEMENTS = 64;

/**
 * Opens a database file, making it when it is not there.
 * @param file path, or `:memory:`
 * @param busy_ms how long to wait for another process that is writing [ms]
 * @throws the library's own error; see {@link errorCode}
 */
export function openDriver(file: string, busy_ms: number): Driver {
  const db = new Libsql(file, { timeout: busy_ms });
  const kept = new Map<string, SqliteStatement>();
  const prepare = (sql: string): SqliteStatement => {
    const found = kept.get(sql);
    if (found) return found;
    const made = db.prepare(sql);
    const statement: SqliteStatement = {
      reader: made.reader,
      all: (parameters) => made.all(parameters.map(toLibrary)).map(fromLibrary),
      run: (parameters) => made.run(parameters.map(toLibrary)),
      iterate: (parameters) => made.iterate(parameters.map(toLibrary)),
    };
    if (kept.size >= KEPT_STATEMENTS) kept.delete(kept.keys().next().value as string);
    kept.set(sql, statement);
    return statement;
  };
  const close = (): void => {
    kept.clear();
    if (db.open) db.close();
  };
  return {
    prepare,
    exec: (sql) => void db.exec(sql),
    rows: (sql, parameters = []) => prepare(sql).all(parameters) as Record<string, unknown>[],
    close,
    release: async () => {
      close();
      await collectStatements();
    },
  };
}

/** Code of a database error, such as `SQLITE_BUSY`, or an empty string for any other error. */
export function errorCode(error: unknown): string {
  if (!(error instanceof Error)) return '';
  const code = 'code' in error ? String(error.code) : '';
  if (code.startsWith('SQLITE_')) return code;
  return error.message.includes('Unable to open') ? 'SQLITE_CANTOPEN' : '';
}

/** The library takes Node's Buffer for a blob and nothing else. */
function toLibrary(value: unknown): unknown {
  return value instanceof Uint8Array && !Buffer.isBuffer(value)
    ? Buffer.from(value.buffer, value.byteOffset, value.byteLength)
    : value;
}

/** The library hands blobs out as ArrayBuffer. */
function fromLibrary(row: unknown): unknown {
  const record = row as Record<string, unknown>;
  for (const key in record) {
    const value = record[key];
    if (value instanceof ArrayBuffer) record[key] = new Uint8Array(value);
  }
  return record;
}

/**
 * The library holds the file open until the garbage collector has taken its prepared statements, so closing asks for
 * a collection; without it a database could not be replaced by the process that closed it.
 */
async function collectStatements(): Promise<void> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  for (let pass = 0; pass < 2; pass++) {
    await afterCallbacks();
    collect();
    await afterCallbacks();
  }
}
