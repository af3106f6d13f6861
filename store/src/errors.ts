import { errorCode } from './driver.ts';

/** What kept the store from doing its work. */
export type StoreErrorCode =
  | 'not_a_database'
  | 'newer_database'
  | 'cannot_open'
  | 'damaged'
  | 'busy'
  | 'disk_full'
  | 'file_exists'
  | 'file_missing'
  | 'in_use';

/** A failure outside the data: the file, the disk, another process. The message is a sentence for a person. */
export class StoreError extends Error {
  readonly code: StoreErrorCode;

  constructor(code: StoreErrorCode, sentence: string, cause?: unknown) {
    super(sentence, cause === undefined ? undefined : { cause });
    this.name = 'StoreError';
    this.code = code;
  }
}

const known: readonly [prefix: string, code: StoreErrorCode, sentence: string][] = [
  ['SQLITE_NOTADB', 'not_a_database', 'is not a database of this program. Choose another file.'],
  ['SQLITE_CORRUPT', 'damaged', 'is damaged. Restore a backup.'],
  ['SQLITE_CANTOPEN', 'cannot_open', 'cannot be opened. Check that the folder exists and may be written to.'],
  ['SQLITE_READONLY', 'cannot_open', 'cannot be written to. Check its permissions.'],
  ['SQLITE_BUSY', 'busy', 'is being written to by another program. Try again in a moment.'],
  ['SQLITE_FULL', 'disk_full', 'cannot grow: the disk is full. Free some space and try again.'],
  ['SQLITE_IOERR', 'disk_full', 'cannot be read or written: the disk reports an error.'],
];

/** Turns a database error into a {@link StoreError} that names the file; passes anything else on as it is. */
export function asStoreError(error: unknown, file: string): unknown {
  if (error instanceof StoreError) return error;
  const code = errorCode(error);
  const found = known.find(([prefix]) => code.startsWith(prefix));
  return found ? new StoreError(found[1], `The file ${file} ${found[2]}`, error) : error;
}
