import type { Generated, Kysely, Selectable } from 'kysely';

/** One saved state of one document, as a row. */
export interface RevisionTable {
  /** Order in which the store took them, across all documents. */
  seq: Generated<number>;
  revision_id: string;
  document_id: string;
  campaign_id: string;
  kind: string;
  rev: number;
  base_revision_id: string | null;
  author: string;
  device: string;
  at: string;
  received_at: string;
  /** The document as JSON text. */
  body: string;
}

export interface AttachmentTable {
  hash: string;
  media_type: string;
  name: string;
  size: number;
  bytes: Uint8Array;
  received_at: string;
}

export interface Tables {
  revisions: RevisionTable;
  /** View: the latest revision of each document. */
  documents: RevisionTable;
  attachments: AttachmentTable;
  /** Facts about this database itself. */
  facts: { key: string; value: string };
}

export type Database = Kysely<Tables>;
export type RevisionRow = Selectable<RevisionTable>;
