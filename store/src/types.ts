import type { Archive, Problem } from '@pourline/core';
import type { TastingStore } from './tasting-types.ts';

/** What a client sends to save one state of one document. */
export interface RevisionInput {
  /** UUID made by the client, version 7 so that it sorts by time: sending the same one again is harmless. */
  revision_id: string;
  /**
   * The revision this one was made from: the latest one, or null for a new document. A document that the store does
   * not hold is taken in whatever its base, because a restored backup may lack that base.
   */
  base_revision_id: string | null;
  /** Who; up to 120 characters, may be empty. */
  author: string;
  /** On what; up to 120 characters, may be empty. */
  device: string;
  /** When, by the client's clock: ISO 8601 with offset. */
  at: string;
  /** The document: any kind, checked against its schema and brought to its newest version. */
  body: unknown;
  /** These three follow from the body; when given they must agree with it. */
  document_id?: string | undefined;
  campaign_id?: string | undefined;
  kind?: string | undefined;
}

/** One saved state of one document. */
export interface Revision {
  /** Place in the order in which the store took revisions, rising by at least 1. */
  seq: number;
  revision_id: string;
  document_id: string;
  campaign_id: string;
  kind: string;
  /** 1, 2, 3 … within the document. */
  rev: number;
  base_revision_id: string | null;
  author: string;
  device: string;
  /** Client's clock. */
  at: string;
  /** Store's clock. */
  received_at: string;
  /** As it was saved; may be of an older version, so check it with core before use. */
  body: unknown;
}

export type AppendResult =
  /** On disk. */
  | { outcome: 'saved'; revision: Revision }
  /** The same revision was saved before; nothing changed. */
  | { outcome: 'already'; revision: Revision }
  /** Somebody else saved in between, and nothing was saved now: `current` is what stands. */
  | { outcome: 'clash'; current: Revision }
  /** Nothing was saved; `problems` says why. Paths are those of the document, or of the input's own fields. */
  | { outcome: 'invalid'; problems: Problem[] };

/** Latest revisions, rising by `seq`. */
export interface Latest {
  /** Pass this as the next `since`. Smaller than the `since` asked for when an older backup was restored. */
  seq: number;
  /** Names this database's history; another one means that a backup was restored: start again from 0. */
  history_id: string;
  revisions: Revision[];
}

export interface AttachmentInfo {
  /** SHA-256 of the content, lower-case hex. */
  hash: string;
  media_type: string;
  name: string;
  /** Bytes. */
  size: number;
  received_at: string;
}

export interface Attachment extends AttachmentInfo {
  bytes: Uint8Array;
}

export type AttachmentResult =
  | { outcome: 'saved' | 'already'; attachment: AttachmentInfo }
  | { outcome: 'too_big'; limit_bytes: number }
  | { outcome: 'invalid'; problems: Problem[] };

export interface ImportOptions {
  /** Give every document a new id, so that a copy stands beside what is there. Default false. */
  asNew?: boolean;
  author?: string;
  device?: string;
}

export type ImportResult =
  | {
      outcome: 'imported';
      /** Documents that got a new revision. */
      saved: number;
      /** Documents that stood here already just so. */
      unchanged: number;
      /** Attachments that were not here yet. */
      attachments: number;
      /** Campaigns in the archive, by the ids they have here. */
      campaign_ids: string[];
    }
  | { outcome: 'invalid'; problems: Problem[] };

export interface BackupResult {
  file: string;
  bytes: number;
  revisions: number;
}

/**
 * Documents and their revisions. Nothing is ever changed or removed: saving appends.
 * Methods throw {@link StoreError} only for failures outside the data (disk, file, another process).
 */
export interface Store {
  /** Where the data is, for messages. */
  readonly location: string;
  /**
   * Saves one state of a document. When it resolves with `saved` or `already`, the revision is on disk. Anything at
   * all may be passed; what does not fit gives `invalid`.
   */
  appendRevision(input: RevisionInput): Promise<AppendResult>;
  /** The latest revision of every document that changed after `since` (default 0: all). */
  latest(since?: number): Promise<Latest>;
  /** Highest `seq` given so far, 0 when empty. */
  lastSeq(): Promise<number>;
  /** Every revision of one document, oldest first; empty when there is no such document. */
  history(documentId: string): Promise<Revision[]>;
  /** Latest revision of one document. */
  document(documentId: string): Promise<Revision | undefined>;
  /** Number of campaigns, archived ones included. */
  countCampaigns(): Promise<number>;
  /**
   * Keeps a file. The same content is kept once, under the name it first came with.
   * @param limit_bytes refuse more than this many bytes; what is read is never more than one chunk above it
   */
  putAttachment(
    content: Uint8Array | AsyncIterable<Uint8Array>,
    about: { media_type: string; name: string },
    limit_bytes?: number,
  ): Promise<AttachmentResult>;
  getAttachment(hash: string): Promise<Attachment | undefined>;
  /** A campaign as it stands now with the files it points to; undefined when there is no such campaign. */
  exportCampaign(campaignId: string): Promise<Archive | undefined>;
  /**
   * Takes an archive in, all of it or nothing. A document that stands here just so is left alone; one that differs
   * gets a new revision on top, so nothing is lost. Checks the archive itself; anything at all may be passed.
   */
  importArchive(archive: unknown, options?: ImportOptions): Promise<ImportResult>;
  /**
   * Copies everything to a new file, consistent even while others write; the copy is checked.
   * @throws StoreError `file_exists` when the file is there already
   */
  backup(toFile: string): Promise<BackupResult>;
  /** Blind sessions, the devices that take part, and codes that were wrong. */
  readonly tastings: TastingStore;
  /** What is wrong with the database; empty when it is sound. */
  integrityCheck(): Promise<string[]>;
  close(): Promise<void>;
}
