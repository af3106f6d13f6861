import { type Kysely, type Migration, Migrator, sql } from 'kysely';
import { v4 as uuid4 } from 'uuid';
import { StoreError } from './errors.ts';
import type { Database } from './schema.ts';
import { tastingTables } from './tasting-tables.ts';

const first: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql`create table revisions (
      seq integer primary key autoincrement,
      revision_id text not null unique,
      document_id text not null,
      campaign_id text not null,
      kind text not null,
      rev integer not null check (rev >= 1),
      base_revision_id text,
      author text not null,
      device text not null,
      at text not null,
      received_at text not null,
      body text not null check (json_valid(body)),
      unique (document_id, rev),
      check (rev = 1 or base_revision_id is not null)
    ) strict`.execute(db);
    await sql`create index revisions_by_campaign on revisions (campaign_id)`.execute(db);
    await sql`create view documents as
      select * from revisions r where not exists
        (select 1 from revisions later where later.document_id = r.document_id and later.rev > r.rev)`.execute(
      db,
    );
    await sql`create table attachments (
      hash text primary key check (length(hash) = 64),
      media_type text not null,
      name text not null,
      size integer not null check (size = length(bytes)),
      bytes blob not null,
      received_at text not null
    ) strict`.execute(db);
    await sql`create table facts (key text primary key, value text not null) strict`.execute(db);
    await sql`insert into facts (key, value) values ('history_id', ${uuid4()})`.execute(db);
    for (const table of ['revisions', 'attachments'])
      for (const deed of ['update', 'delete'])
        await sql`create trigger ${sql.ref(`${table}_no_${deed}`)} before ${sql.raw(deed)} on ${sql.table(table)}
          begin select raise(abort, ${sql.lit(`${table} are append-only`)}); end`.execute(db);
    // "insert or replace" removes rows without asking the triggers above.
    await sql`create trigger revisions_no_replace before insert on revisions when exists
      (select 1 from revisions where seq = new.seq or revision_id = new.revision_id
        or (document_id = new.document_id and rev = new.rev))
      begin select raise(abort, 'revisions are append-only'); end`.execute(db);
    await sql`create trigger attachments_no_replace before insert on attachments when exists
      (select 1 from attachments where hash = new.hash) begin select raise(ignore); end`.execute(db);
  },
};

/** Every step of the schema, by name; names sort in the order they run. Steps are added, never changed. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001-revisions': first,
  '0002-tastings': tastingTables,
};

/**
 * Brings the schema up to date, all of it or nothing.
 * @throws StoreError `newer_database` when a newer program made the database
 */
export async function migrate(db: Database): Promise<void> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...migrations }) } });
  const { error } = await migrator.migrateToLatest();
  if (error === undefined) return;
  if (error instanceof Error && error.message.includes('corrupted migrations'))
    throw new StoreError(
      'newer_database',
      'This database was made by a newer version of the program. Update the program to open it.',
      error,
    );
  throw error;
}
