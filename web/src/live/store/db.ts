import type { LiveRun, RunEvent } from '@pourline/core';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** How a run is to be followed, as chosen before it. */
export interface RunSettings {
  mode: 'tap' | 'cues';
  count_in_s: number;
  sounds: boolean;
  vibration: boolean;
  recording: boolean;
}

/** A run that was prepared, with all that is needed to follow it: nothing else has to be there. */
export interface StoredRun {
  run_id: string;
  campaign_id: string;
  talk_id: string | null;
  plan_id: string | null;
  name: string;
  /** ISO 8601 */
  prepared_at: string;
  run: LiveRun;
  settings: RunSettings;
  /** It has become a document, or was thrown away before it began. */
  closed: 'kept' | 'dropped' | null;
}

/** The clock of the day at zero of a run, and when that was last looked at; see `ClockAnchor`. */
export interface StoredAnchor {
  run_id: string;
  zero_wall_ms: number;
  seen_wall_ms: number;
}

/** A piece of a recording. */
export interface StoredSound {
  run_id: string;
  /** Each time the recorder was started makes a file of its own. */
  take: number;
  piece: number;
  media_type: string;
  /** Moment of the run at which this take began [s]. */
  from_s: number;
  data: ArrayBuffer;
}

interface Schema extends DBSchema {
  runs: { key: string; value: StoredRun };
  events: { key: [string, number]; value: { run_id: string; n: number; event: RunEvent } };
  anchors: { key: string; value: StoredAnchor };
  sounds: { key: [string, number, number]; value: StoredSound };
}

export type LiveDatabase = IDBPDatabase<Schema>;

/**
 * Opens the live view's own database. It stands apart from that of the documents, so that a run can be recorded whatever state the rest is
 * in.
 */
export function openLiveDatabase(name = databaseName()): Promise<LiveDatabase> {
  return openDB<Schema>(name, 1, {
    upgrade(db) {
      db.createObjectStore('runs', { keyPath: 'run_id' });
      db.createObjectStore('events', { keyPath: ['run_id', 'n'] });
      db.createObjectStore('anchors', { keyPath: 'run_id' });
      db.createObjectStore('sounds', { keyPath: ['run_id', 'take', 'piece'] });
    },
  });
}

/** Two sub-folders of one host are two apps, as for the documents. */
function databaseName(): string {
  const folder = new URL('.', document.baseURI).pathname;
  return folder === '/' ? 'pourline-live' : `pourline-live:${folder}`;
}

let opened: Promise<LiveDatabase> | undefined;

/** The one connection of this page. */
export function liveDatabase(): Promise<LiveDatabase> {
  opened ??= openLiveDatabase().catch((reason: unknown) => {
    opened = undefined;
    throw reason;
  });
  return opened;
}
