/**
 * What the desks see of the replica: the browser's own copy of the documents, with an outbox behind it. Desks never
 * touch IndexedDB or the network.
 */
import type { AnyDocument, DocumentOf, families, Kind, Problem } from '@pourline/core';
import type { z } from 'zod';

/** How the replica stands with the server. */
export type SyncState =
  /** Not known yet: the page has just opened. */
  | { state: 'starting' }
  /** Everything is on the server's disk. */
  | { state: 'saved' }
  /** Being sent. */
  | { state: 'sending'; waiting: number }
  /** The server does not answer; changes are safe in this browser and will be sent. */
  | { state: 'offline'; waiting: number }
  /** There is no server at all (a static host): this browser is the store. */
  | { state: 'local' };

/** A document under edit: what stands on screen, valid or not, and what was last valid. */
export interface Draft<K extends Kind> {
  /**
   * As typed. May break the schema; kept across reloads even then. A number field that holds something else than a
   * number keeps the text as it was typed, so draw and compute from `document` and show `body` only in fields.
   */
  body: DocumentOf<K>;
  /** The last state that passed the schema, the one that is saved and simulated. */
  document: DocumentOf<K>;
  /** What is wrong with `body`; empty when it equals `document`. */
  problems: readonly Problem[];
  /**
   * Replaces the body. With `settled: false` (a drag under way) nothing is saved and no undo step is made; the next
   * settled change makes one step of the whole gesture. A settled valid body is saved as a revision.
   */
  change(body: DocumentOf<K>, options?: { settled?: boolean }): void;
  undo(): void;
  redo(): void;
  canUndo: boolean;
  canRedo: boolean;
}

/** One saved state of a document. */
export interface RevisionInfo {
  revision_id: string;
  at: string;
  author: string;
  device: string;
  /** Still waiting in the outbox. */
  pending: boolean;
  /** Lost a clash and was set aside; it can still be brought back. */
  set_aside: boolean;
  body: unknown;
}

/** A saved state as it travels and as it is kept. `rev` and `seq` are the server's and unknown until it answers. */
export interface Revision {
  revision_id: string;
  document_id: string;
  campaign_id: string;
  kind: Kind;
  base_revision_id: string | null;
  author: string;
  device: string;
  at: string;
  body: unknown;
  rev: number | null;
  seq: number | null;
}

/** Two states of one document that grew from the same one; both are kept until a person chooses. */
export interface Clash {
  /** The revision that was set aside. */
  clash_id: string;
  document_id: string;
  kind: Kind;
  /** `moved_on`: somebody else saved first. `refused`: the server found problems in it. */
  reason: 'moved_on' | 'refused';
  problems: readonly Problem[];
  /** The state both grew from; null when it is not known here. */
  base: unknown;
  mine: Revision;
  theirs: Revision | null;
}

/** A document as a desk gives it to be made: what has a default may be left out. */
export type NewDocument<K extends Kind> = Omit<
  z.input<(typeof families)[K]['schema']>,
  'kind' | 'version' | 'id' | 'campaign_id'
>;

/** A document that stands in the archive list. */
export type Archived = AnyDocument & { archived: true };
