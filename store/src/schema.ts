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

/** A blind session. What is in which cup stands in `plan` and leaves it only by closing. */
export interface SessionTable {
  session_id: string;
  /** Id under which the host asked for it; asking again gives the same session. */
  request_id: string;
  document_id: string;
  campaign_id: string;
  opened_at: number;
  /** The design and the plan, as JSON text. */
  design: string;
  plan: string;
  /** For a short while, so it is kept as it is shown to the host. */
  join_code: string | null;
  join_until: number | null;
}

/** A seat that was taken: how its device proves itself, and what its taster told. Hashes are SHA-256, lower-case hex. */
export interface SeatTable {
  session_id: string;
  seat: number;
  join_hash: string;
  /** Null once the device may not speak any more. */
  token_hash: string | null;
  /** As JSON text. */
  care: string;
  seat_code: string | null;
  seat_code_until: number | null;
}

/** Everything that happened in sessions, in order. */
export interface SessionEventTable {
  seq: Generated<number>;
  session_id: string;
  /** Made by a client, so that a retry is found; null for what has none. */
  event_id: string | null;
  at: number;
  /** As JSON text. */
  event: string;
}

/** A device of a host or coach. */
export interface DeviceTable {
  device_id: string;
  token_hash: string;
  role: string;
  name: string;
  paired_at: number;
  seen_at: number;
}

/** A join code that was wrong. */
export interface RefusedJoinTable {
  at: number;
  address: string;
}

export interface Tables {
  revisions: RevisionTable;
  /** View: the latest revision of each document. */
  documents: RevisionTable;
  attachments: AttachmentTable;
  tasting_sessions: SessionTable;
  tasting_seats: SeatTable;
  tasting_events: SessionEventTable;
  devices: DeviceTable;
  refused_joins: RefusedJoinTable;
  /** Facts about this database itself. */
  facts: { key: string; value: string };
}

export type Database = Kysely<Tables>;
export type RevisionRow = Selectable<RevisionTable>;
export type SessionEventRow = Selectable<SessionEventTable>;
