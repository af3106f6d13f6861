import * as attachments from './attachments.ts';
import { MAX_ATTACHMENT_BYTES } from './attachments.ts';
import { backup } from './backup.ts';
import { integrityProblems, type OpenDatabase, openDatabase } from './database.ts';
import { asStoreError } from './errors.ts';
import { exportCampaign } from './export-archive.ts';
import { importArchive } from './import-archive.ts';
import * as revisions from './revisions.ts';
import { tastingStore } from './tastings.ts';
import type { Store } from './types.ts';

export interface OpenOptions {
  /** Path of the database; file and folder are made when they are not there. */
  file: string;
  /** The store's clock; default is the machine's. */
  now?: () => Date;
}

/**
 * Opens the embedded store: one SQLite file, write-ahead log, every commit on disk before it is acknowledged.
 * @throws StoreError when the file cannot be opened, is not a database, or comes from a newer program
 */
export async function openStore(options: OpenOptions): Promise<Store> {
  const open = await openDatabase(options.file);
  const fact = await open.db
    .selectFrom('facts')
    .select('value')
    .where('key', '=', 'history_id')
    .executeTakeFirstOrThrow();
  return storeOn(open, fact.value, options.now ?? (() => new Date()));
}

function storeOn({ db, driver, file }: OpenDatabase, historyId: string, now: () => Date): Store {
  const named = async <T>(work: Promise<T>): Promise<T> => {
    try {
      return await work;
    } catch (error) {
      throw asStoreError(error, file);
    }
  };
  return {
    location: file,
    appendRevision: (input) => named(revisions.appendRevision(db, input, now)),
    latest: (since = 0) => named(revisions.latestRevisions(db, historyId, since)),
    lastSeq: () => named(revisions.lastSeq(db)),
    history: (id) => named(revisions.revisionsOf(db, id)),
    document: async (id) => {
      const row = await named(revisions.latestRow(db, id));
      return row && revisions.toRevision(row);
    },
    countCampaigns: () => named(revisions.countCampaigns(db)),
    putAttachment: (content, about, limit = MAX_ATTACHMENT_BYTES) =>
      named(attachments.putAttachment(db, content, about, limit, now)),
    getAttachment: (hash) => named(attachments.getAttachment(db, hash)),
    exportCampaign: (id) => named(exportCampaign(db, id, now())),
    importArchive: (archive, importing = {}) => named(importArchive(db, archive, importing, now())),
    backup: (toFile) => named(backup(db, toFile)),
    tastings: tastingStore(db, named, now),
    integrityCheck: () => named(integrityProblems(db)),
    close: async () => {
      await db.destroy();
      await driver.release();
    },
  };
}
