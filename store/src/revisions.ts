import { type AnyDocument, checkDocument } from '@pourline/core';
import { storeProblem } from './problems.ts';
import { type CheckedRevision, checkRevisionInput } from './revision-input.ts';
import type { Database, RevisionRow } from './schema.ts';
import type { AppendResult, Latest, Revision } from './types.ts';

/** {@link Store.appendRevision}, in one transaction that holds the write lock. */
export async function appendRevision(db: Database, input: unknown, now: () => Date): Promise<AppendResult> {
  const checked = checkRevisionInput(input);
  if (!checked.ok) return { outcome: 'invalid', problems: checked.problems };
  const wanted = checked.value;
  return db.transaction().execute(async (tx) => {
    const same = await tx
      .selectFrom('revisions')
      .selectAll()
      .where('revision_id', '=', wanted.revision_id)
      .executeTakeFirst();
    if (same) return retryOf(same, wanted);
    const current = await latestRow(tx, wanted.document.id);
    if (current) {
      if (current.revision_id !== wanted.base_revision_id)
        return { outcome: 'clash', current: toRevision(current) };
      const problems = kindProblems(current, wanted.document);
      if (problems.length > 0) return { outcome: 'invalid', problems };
    }
    const row = await insertRevision(tx, wanted, (current?.rev ?? 0) + 1, now());
    return { outcome: 'saved', revision: toRevision(row) };
  });
}

/** A document keeps the kind it was first saved with. */
export function kindProblems(current: Pick<RevisionRow, 'kind'>, document: AnyDocument) {
  if (current.kind === document.kind) return [];
  return [storeProblem(['kind'], 'kind_changed', { value: document.kind, limit: current.kind })];
}

/** Appends a row. Must run inside the transaction in which the document's latest row was read. */
export async function insertRevision(
  tx: Database,
  wanted: CheckedRevision,
  rev: number,
  now: Date,
): Promise<RevisionRow> {
  const { document } = wanted;
  return tx
    .insertInto('revisions')
    .values({
      revision_id: wanted.revision_id,
      document_id: document.id,
      campaign_id: document.campaign_id,
      kind: document.kind,
      rev,
      base_revision_id: wanted.base_revision_id,
      author: wanted.author,
      device: wanted.device,
      at: wanted.at,
      received_at: now.toISOString(),
      body: JSON.stringify(document),
    })
    .returningAll()
    .executeTakeFirstOrThrow();
}

/** Latest row of one document. */
export function latestRow(db: Database, documentId: string): Promise<RevisionRow | undefined> {
  return db
    .selectFrom('revisions')
    .selectAll()
    .where('document_id', '=', documentId)
    .orderBy('rev', 'desc')
    .limit(1)
    .executeTakeFirst();
}

/** {@link Store.latest} */
export async function latestRevisions(db: Database, history_id: string, since: number): Promise<Latest> {
  const rows = await db.selectFrom('documents').selectAll().where('seq', '>', since).orderBy('seq').execute();
  const seq = rows.at(-1)?.seq ?? (await lastSeq(db));
  return { seq, history_id, revisions: rows.map(toRevision) };
}

/** {@link Store.lastSeq} */
export async function lastSeq(db: Database): Promise<number> {
  const row = await db
    .selectFrom('revisions')
    .select((eb) => eb.fn.max('seq').as('seq'))
    .executeTakeFirst();
  return row?.seq ?? 0;
}

/** {@link Store.history} */
export async function revisionsOf(db: Database, documentId: string): Promise<Revision[]> {
  const rows = await db
    .selectFrom('revisions')
    .selectAll()
    .where('document_id', '=', documentId)
    .orderBy('rev')
    .execute();
  return rows.map(toRevision);
}

/** {@link Store.countCampaigns} */
export async function countCampaigns(db: Database): Promise<number> {
  const row = await db
    .selectFrom('documents')
    .select((eb) => eb.fn.countAll<number>().as('n'))
    .where('kind', '=', 'campaign')
    .executeTakeFirstOrThrow();
  return row.n;
}

/** A row as callers see it. */
export function toRevision(row: RevisionRow): Revision {
  return { ...row, body: JSON.parse(row.body) as unknown };
}

/** Whether a stored body says the same as a checked document, whatever version it was stored in. */
export function saysTheSame(row: Pick<RevisionRow, 'body'>, document: AnyDocument): boolean {
  const text = JSON.stringify(document);
  if (row.body === text) return true;
  const stored = checkDocument(JSON.parse(row.body));
  return stored.ok && JSON.stringify(stored.value) === text;
}

function retryOf(stored: RevisionRow, wanted: CheckedRevision): AppendResult {
  const same =
    stored.document_id === wanted.document.id &&
    stored.base_revision_id === wanted.base_revision_id &&
    saysTheSame(stored, wanted.document);
  if (same) return { outcome: 'already', revision: toRevision(stored) };
  const value = wanted.revision_id;
  return { outcome: 'invalid', problems: [storeProblem(['revision_id'], 'revision_reused', { value })] };
}
