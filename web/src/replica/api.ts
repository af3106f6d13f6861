/**
 * What the desks see of the replica: the browser's own copy of the documents, with an outbox behind it. Desks never
 * touch IndexedDB or the network.
 */
import type { DocumentOf, Kind, Problem } from '@pourline/core';

/** How the replica stands with the server. */
export type SyncState =
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
  /** As typed. May break the schema; kept across reloads even then. */
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
  body: unknown;
}
