import type { Kind } from '@pourline/core';
import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from 'idb';
import type { Clash, Revision } from './api.ts';
import type { Waiting } from './kernels/receive.ts';

/** Where a revision stands: on the server, waiting to go there, or set aside after a clash. */
export type Standing = 'saved' | 'pending' | 'set_aside';

export interface StoredDocument {
  document_id: string;
  campaign_id: string;
  kind: Kind;
  /** Newest state the server is known to have; null for one it has never seen. */
  accepted: Revision | null;
  /** What the person sees. */
  head: Revision;
}

export interface StoredDraft {
  /** `document_id|tab_id`: two tabs may each hold something typed. */
  key: string;
  document_id: string;
  tab_id: string;
  kind: Kind;
  base_revision_id: string;
  body: unknown;
  at: string;
}

export interface StoredAttachment {
  hash: string;
  media_type: string;
  name: string;
  data: ArrayBuffer;
  /** Not on the server yet. */
  waiting: 0 | 1;
}

export interface Meta {
  /** Last revision of the server that was taken in. */
  seq: number;
  /** Which history of the server that number belongs to. */
  history_id: string;
  /** A server has answered at this address before, so silence means "offline" and not "there is none". */
  server_seen: boolean;
  /** The demo has been put in once; once taken away it does not come back. */
  seeded: boolean;
}

interface Schema extends DBSchema {
  documents: { key: string; value: StoredDocument };
  revisions: {
    key: string;
    value: Revision & { standing: Standing };
    indexes: { document: string };
  };
  outbox: { key: number; value: Waiting; indexes: { document: string } };
  drafts: { key: string; value: StoredDraft };
  clashes: { key: string; value: Clash };
  attachments: { key: string; value: StoredAttachment; indexes: { waiting: number } };
  meta: { key: keyof Meta; value: Meta[keyof Meta] };
}

export type Database = IDBPDatabase<Schema>;
export type Transaction<Stores extends StoreNames<Schema>[]> = IDBPTransaction<Schema, Stores, 'readwrite'>;

/** Opens the browser's database. Two sub-folders of one host are two apps and get two databases. */
export function openDatabase(name: string): Promise<Database> {
  return openDB<Schema>(name, 1, {
    upgrade(db) {
      db.createObjectStore('documents', { keyPath: 'document_id' });
      db.createObjectStore('revisions', { keyPath: 'revision_id' }).createIndex('document', 'document_id');
      db.createObjectStore('outbox', { keyPath: 'n', autoIncrement: true }).createIndex(
        'document',
        'document_id',
      );
      db.createObjectStore('drafts', { keyPath: 'key' });
      db.createObjectStore('clashes', { keyPath: 'clash_id' });
      db.createObjectStore('attachments', { keyPath: 'hash' }).createIndex('waiting', 'waiting');
      db.createObjectStore('meta');
    },
  });
}
