import type { CareAnswers, Logged, SessionDesign, SessionEvent, SessionPlan, Tasting } from '@pourline/core';

/** A session as it is opened. */
export interface NewSession {
  session_id: string;
  request_id: string;
  document_id: string;
  campaign_id: string;
  opened_at: number;
  design: SessionDesign;
  plan: SessionPlan;
  join_code: string;
  join_until: number;
}

/** A session as it stands. */
export interface SessionRecord extends Omit<NewSession, 'join_code' | 'join_until'> {
  /** Null when nobody can join (any more). */
  join_code: string | null;
  join_until: number | null;
}

/** A seat that was taken. */
export interface SeatRecord {
  session_id: string;
  seat: number;
  join_hash: string;
  token_hash: string | null;
  care: CareAnswers;
  seat_code: string | null;
  seat_code_until: number | null;
}

/** Everything about a session at one moment. */
export interface SessionNow {
  session: SessionRecord;
  seats: readonly SeatRecord[];
  log: readonly Logged[];
}

/** What is to be written of a session, all of it or nothing. */
export interface SessionChange {
  events?: readonly { event: SessionEvent; event_id: string | null }[];
  /** A seat that is new or changed. */
  seat?: SeatRecord;
  /** New join code, or nulls for none. */
  join?: { join_code: string | null; join_until: number | null };
  /** What the session's document becomes: given what stands, and the log with the new events. Saved as a revision. */
  document?: (standing: Tasting, log: readonly Logged[]) => Tasting;
}

export type OpenedSession =
  | { outcome: 'opened'; session: SessionRecord }
  /** The same request, or another for the same document, opened it before. */
  | { outcome: 'already'; session: SessionRecord };

/** A code that opens a session, or one seat of it. */
export interface OpenCode {
  session_id: string;
  /** Null: any free seat. */
  seat: number | null;
  code: string;
}

/** A device of a host or coach. */
export interface StoredDevice {
  device_id: string;
  token_hash: string;
  role: 'host' | 'coach';
  name: string;
  paired_at: number;
  seen_at: number;
}

/** Blind sessions. Every method that writes resolves once it is on disk. */
export interface TastingStore {
  open(session: NewSession): Promise<OpenedSession>;
  /** All sessions, newest first. */
  sessions(): Promise<SessionRecord[]>;
  /** A session with its seats and its log; undefined when there is none. */
  now(session_id: string): Promise<SessionNow | undefined>;
  /** Number of the last event of any session, 0 when there is none: rises when another process wrote. */
  lastEvent(): Promise<number>;
  /**
   * Looks at a session and writes what `decide` makes of it, in one transaction: nobody else writes in between. `decide` may be called with an
   * event id that is in the log already; it must then change nothing.
   */
  change<T>(
    session_id: string,
    decide: (now: SessionNow) => { change: SessionChange | null; answer: T },
  ): Promise<T | undefined>;
  /** What was logged under a client's id, in whatever session. */
  eventById(event_id: string): Promise<{ session_id: string; event: Logged } | undefined>;
  /** Every code that may open a session just now: its own, and those of seats for a new device. */
  codes(now: number): Promise<OpenCode[]>;
  seatByToken(token_hash: string): Promise<SeatRecord | undefined>;
  seatByJoin(join_hash: string): Promise<SeatRecord | undefined>;
  addDevice(device: StoredDevice): Promise<void>;
  devices(): Promise<StoredDevice[]>;
  deviceByToken(token_hash: string): Promise<StoredDevice | undefined>;
  seeDevice(device_id: string, at: number): Promise<void>;
  removeDevice(device_id: string): Promise<void>;
  /** Writes down a wrong code and forgets those from before `forget_before`. */
  refuseJoin(address: string, at: number, forget_before: number): Promise<void>;
  /** Wrong codes since a moment: from one address, and from all. */
  refusedJoins(address: string, since: number): Promise<{ address: number; all: number }>;
}
