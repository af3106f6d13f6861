import { checkKind, type Logged, type SessionEvent, type Tasting } from '@pourline/core';
import { v7 as uuid7 } from 'uuid';
import { deviceStore } from './devices.ts';
import { insertRevision, latestRow } from './revisions.ts';
import type { Database, SeatTable, SessionEventRow, SessionTable } from './schema.ts';
import type {
  NewSession,
  OpenCode,
  OpenedSession,
  SeatRecord,
  SessionChange,
  SessionNow,
  SessionRecord,
  TastingStore,
} from './tasting-types.ts';

type Named = <T>(work: Promise<T>) => Promise<T>;

/** Blind sessions on a database; `named` turns errors into those of the store. */
export function tastingStore(db: Database, named: Named, now: () => Date): TastingStore {
  return {
    open: (session) => named(openSession(db, session)),
    sessions: () => named(allSessions(db)),
    now: (id) => named(sessionNow(db, id)),
    lastEvent: () => named(lastEvent(db)),
    change: (id, decide) => named(changeSession(db, id, decide, now)),
    eventById: (id) => named(eventById(db, id)),
    codes: (at) => named(openCodes(db, at)),
    seatByToken: (hash) => named(seatBy(db, 'token_hash', hash)),
    seatByJoin: (hash) => named(seatBy(db, 'join_hash', hash)),
    ...deviceStore(db, named),
  };
}

async function openSession(db: Database, session: NewSession): Promise<OpenedSession> {
  return db.transaction().execute(async (tx): Promise<OpenedSession> => {
    const row = await tx
      .selectFrom('tasting_sessions')
      .selectAll()
      .where((eb) =>
        eb.or([eb('request_id', '=', session.request_id), eb('document_id', '=', session.document_id)]),
      )
      .executeTakeFirst();
    if (row) return { outcome: 'already', session: toSession(row) };
    const { design, plan } = session;
    await tx
      .insertInto('tasting_sessions')
      .values({ ...session, design: JSON.stringify(design), plan: JSON.stringify(plan) })
      .execute();
    return { outcome: 'opened', session };
  });
}

async function allSessions(db: Database): Promise<SessionRecord[]> {
  const rows = await db.selectFrom('tasting_sessions').selectAll().orderBy('opened_at', 'desc').execute();
  return rows.map(toSession);
}

async function sessionNow(db: Database, session_id: string): Promise<SessionNow | undefined> {
  const row = await db
    .selectFrom('tasting_sessions')
    .selectAll()
    .where('session_id', '=', session_id)
    .executeTakeFirst();
  if (!row) return undefined;
  const seats = await db
    .selectFrom('tasting_seats')
    .selectAll()
    .where('session_id', '=', session_id)
    .orderBy('seat')
    .execute();
  const events = await db
    .selectFrom('tasting_events')
    .selectAll()
    .where('session_id', '=', session_id)
    .orderBy('seq')
    .execute();
  return { session: toSession(row), seats: seats.map(toSeat), log: events.map(toLogged) };
}

async function lastEvent(db: Database): Promise<number> {
  const row = await db
    .selectFrom('tasting_events')
    .select((eb) => eb.fn.max('seq').as('seq'))
    .executeTakeFirst();
  return row?.seq ?? 0;
}

async function changeSession<T>(
  db: Database,
  session_id: string,
  decide: (now: SessionNow) => { change: SessionChange | null; answer: T },
  now: () => Date,
): Promise<T | undefined> {
  return db.transaction().execute(async (tx) => {
    const standing = await sessionNow(tx, session_id);
    if (!standing) return undefined;
    const { change, answer } = decide(standing);
    if (change) await write(tx, standing, change, now());
    return answer;
  });
}

async function write(
  tx: Database,
  { session, log }: SessionNow,
  change: SessionChange,
  now: Date,
): Promise<void> {
  const { session_id } = session;
  const at = now.getTime();
  const added: Logged[] = [];
  for (const { event, event_id } of change.events ?? []) {
    const row = await tx
      .insertInto('tasting_events')
      .values({ session_id, event_id, at, event: JSON.stringify(event) })
      .returningAll()
      .executeTakeFirstOrThrow();
    added.push(toLogged(row));
  }
  if (change.seat) await saveSeat(tx, change.seat);
  if (change.join)
    await tx.updateTable('tasting_sessions').set(change.join).where('session_id', '=', session_id).execute();
  if (change.document) await saveDocument(tx, session, change.document, [...log, ...added], now);
}

async function saveSeat(tx: Database, seat: SeatRecord): Promise<void> {
  const row = { ...seat, care: JSON.stringify(seat.care) };
  const { session_id: _, seat: __, ...changes } = row;
  await tx
    .insertInto('tasting_seats')
    .values(row)
    .onConflict((oc) => oc.columns(['session_id', 'seat']).doUpdateSet(changes))
    .execute();
}

/** Appends a revision to the session's document, in the transaction that closes the session. */
async function saveDocument(
  tx: Database,
  session: SessionRecord,
  make: (standing: Tasting, log: readonly Logged[]) => Tasting,
  log: readonly Logged[],
  now: Date,
): Promise<void> {
  const current = await latestRow(tx, session.document_id);
  const standing = current ? checkKind('tasting', JSON.parse(current.body)) : undefined;
  const base = standing?.ok ? standing.value : { ...session.design, run: null };
  const made = checkKind('tasting', make(base, log));
  if (!made.ok)
    throw new Error(
      `closing a session made no sound document: ${made.problems.map((p) => p.sentence).join(' ')}`,
    );
  const by = { author: '', device: 'server', at: now.toISOString() };
  const revision = {
    ...by,
    revision_id: uuid7(),
    base_revision_id: current?.revision_id ?? null,
    document: made.value,
  };
  await insertRevision(tx, revision, (current?.rev ?? 0) + 1, now);
}

async function eventById(
  db: Database,
  event_id: string,
): Promise<{ session_id: string; event: Logged } | undefined> {
  const row = await db
    .selectFrom('tasting_events')
    .selectAll()
    .where('event_id', '=', event_id)
    .executeTakeFirst();
  return row && { session_id: row.session_id, event: toLogged(row) };
}

async function openCodes(db: Database, at: number): Promise<OpenCode[]> {
  const sessions = await db
    .selectFrom('tasting_sessions')
    .select(['session_id', 'join_code as code'])
    .where('join_until', '>', at)
    .execute();
  const seats = await db
    .selectFrom('tasting_seats')
    .select(['session_id', 'seat', 'seat_code as code'])
    .where('seat_code_until', '>', at)
    .execute();
  return [...sessions.map((s) => ({ ...s, seat: null })), ...seats].flatMap(({ code, ...of }) =>
    code === null ? [] : [{ ...of, code }],
  );
}

async function seatBy(
  db: Database,
  column: 'token_hash' | 'join_hash',
  hash: string,
): Promise<SeatRecord | undefined> {
  const row = await db.selectFrom('tasting_seats').selectAll().where(column, '=', hash).executeTakeFirst();
  return row && toSeat(row);
}

const toSession = (row: SessionTable): SessionRecord => ({
  ...row,
  design: JSON.parse(row.design) as SessionRecord['design'],
  plan: JSON.parse(row.plan) as SessionRecord['plan'],
});

const toSeat = (row: SeatTable): SeatRecord => ({ ...row, care: JSON.parse(row.care) as SeatRecord['care'] });

const toLogged = (row: SessionEventRow): Logged => ({
  ...(JSON.parse(row.event) as SessionEvent),
  seq: row.seq,
  at: row.at,
  event_id: row.event_id,
});
