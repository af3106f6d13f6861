import type { AnswerRequest, TasterSheet } from '@pourline/core';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** What this phone keeps of itself: its seat, its answers that are not sent yet, and what is half answered. */
interface TasterDb extends DBSchema {
  seat: { key: 'seat'; value: Seat };
  outbox: { key: string; value: Waiting };
  drafts: { key: string; value: unknown };
}

/** A seat in a session. */
export interface Seat {
  /** Told to the server alone; gets the same seat back. */
  join_id: string;
  name: string;
  /** Null until joined, and after the seat was given up. */
  token: string | null;
  /** As it was last seen, for when the network is away. */
  sheet: TasterSheet | null;
  /** How far the server's clock is ahead of this one. */
  offset_ms: number;
}

/** An answer on its way. */
export interface Waiting extends AnswerRequest {
  /** Session that it belongs to. */
  session_id: string;
  /** Why the server does not take it; null while it has not refused. */
  refused: string | null;
}

/** Storage of this phone, or of this page's memory where a browser gives none. */
export interface Shelf {
  seat(): Promise<Seat | null>;
  keepSeat(seat: Seat | null): Promise<void>;
  waiting(): Promise<Waiting[]>;
  put(answer: Waiting): Promise<void>;
  sent(answer_id: string): Promise<void>;
  draft(key: string): Promise<unknown>;
  keepDraft(key: string, value: unknown): Promise<void>;
  clearDrafts(): Promise<void>;
}

/** Opens the phone's storage. */
export async function openShelf(name = 'pourline-taster'): Promise<Shelf> {
  try {
    return inDatabase(
      await openDB<TasterDb>(name, 1, {
        upgrade(db) {
          db.createObjectStore('seat');
          db.createObjectStore('outbox', { keyPath: 'answer_id' });
          db.createObjectStore('drafts');
        },
      }),
    );
  } catch {
    return inMemory();
  }
}

function inDatabase(db: IDBPDatabase<TasterDb>): Shelf {
  return {
    seat: async () => (await db.get('seat', 'seat')) ?? null,
    async keepSeat(seat) {
      if (seat === null) await db.delete('seat', 'seat');
      else await db.put('seat', seat, 'seat');
    },
    waiting: () => db.getAll('outbox'),
    async put(answer) {
      await db.put('outbox', answer);
    },
    sent: (answer_id) => db.delete('outbox', answer_id),
    draft: (key) => db.get('drafts', key),
    async keepDraft(key, value) {
      if (value === undefined) await db.delete('drafts', key);
      else await db.put('drafts', value, key);
    },
    clearDrafts: () => db.clear('drafts'),
  };
}

/** Some browsers give a private page no storage; answers then live as long as the page. */
export function inMemory(): Shelf {
  let seat: Seat | null = null;
  const outbox = new Map<string, Waiting>();
  const drafts = new Map<string, unknown>();
  return {
    seat: async () => seat,
    keepSeat: async (next) => {
      seat = next;
    },
    waiting: async () => [...outbox.values()].sort((a, b) => a.answer_id.localeCompare(b.answer_id)),
    put: async (answer) => {
      outbox.set(answer.answer_id, answer);
    },
    sent: async (answer_id) => {
      outbox.delete(answer_id);
    },
    draft: async (key) => drafts.get(key),
    keepDraft: async (key, value) => {
      if (value === undefined) drafts.delete(key);
      else drafts.set(key, value);
    },
    clearDrafts: async () => drafts.clear(),
  };
}
