import { type Kysely, type Migration, sql } from 'kysely';

/** Tables of blind sessions. Seats and sessions change (codes, tokens); what happened is only ever added to. */
export const tastingTables: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql`create table tasting_sessions (
      session_id text primary key,
      request_id text not null unique,
      document_id text not null unique,
      campaign_id text not null,
      opened_at integer not null,
      design text not null check (json_valid(design)),
      plan text not null check (json_valid(plan)),
      join_code text,
      join_until integer
    ) strict`.execute(db);
    await sql`create table tasting_seats (
      session_id text not null references tasting_sessions (session_id),
      seat integer not null check (seat >= 1),
      join_hash text not null unique check (length(join_hash) = 64),
      token_hash text unique check (length(token_hash) = 64),
      care text not null check (json_valid(care)),
      seat_code text,
      seat_code_until integer,
      primary key (session_id, seat)
    ) strict`.execute(db);
    await sql`create table tasting_events (
      seq integer primary key autoincrement,
      session_id text not null references tasting_sessions (session_id),
      event_id text unique,
      at integer not null,
      event text not null check (json_valid(event))
    ) strict`.execute(db);
    await sql`create index tasting_events_by_session on tasting_events (session_id, seq)`.execute(db);
    await sql`create table devices (
      device_id text primary key,
      token_hash text not null unique check (length(token_hash) = 64),
      role text not null check (role in ('host', 'coach')),
      name text not null,
      paired_at integer not null,
      seen_at integer not null
    ) strict`.execute(db);
    await sql`create table refused_joins (at integer not null, address text not null) strict`.execute(db);
    await sql`create index refused_joins_by_time on refused_joins (at)`.execute(db);
    for (const deed of ['update', 'delete'])
      await sql`create trigger ${sql.ref(`tasting_events_no_${deed}`)} before ${sql.raw(deed)} on tasting_events
        begin select raise(abort, 'tasting_events are append-only'); end`.execute(db);
    await sql`create trigger tasting_events_no_replace before insert on tasting_events when exists
      (select 1 from tasting_events where seq = new.seq or event_id = new.event_id)
      begin select raise(abort, 'tasting_events are append-only'); end`.execute(db);
  },
};
