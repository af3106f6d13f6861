import { type AnyDocument, type Archive, type Checked, checkArchive, type Problem } from '@pourline/core';
import { v7 as uuid7 } from 'uuid';
import { attachmentProblems, hashOf, storeAttachment } from './attachments.ts';
import { problemUnder, storeProblem } from './problems.ts';
import { withNewIds } from './remap.ts';
import { belongingProblems } from './revision-input.ts';
import { insertRevision, kindProblems, latestRow, saysTheSame } from './revisions.ts';
import type { Database } from './schema.ts';
import { MAX_ENTRIES, sizeProblem } from './size.ts';
import type { ImportOptions, ImportResult } from './types.ts';

/** {@link Store.importArchive} */
export async function importArchive(
  db: Database,
  input: unknown,
  options: ImportOptions,
  now: Date,
): Promise<ImportResult> {
  const checked = checkForImport(input);
  if (!checked.ok) return { outcome: 'invalid', problems: checked.problems };
  const files = checked.value.attachments;
  const documents = options.asNew ? withNewIds(checked.value.documents, uuid7) : checked.value.documents;
  const by = { author: options.author ?? '', device: options.device ?? 'import', at: now.toISOString() };
  return db.transaction().execute(async (tx): Promise<ImportResult> => {
    const problems = await clashingKinds(tx, documents);
    if (problems.length > 0) return { outcome: 'invalid', problems };
    const attachments = await importFiles(tx, files, now);
    let saved = 0;
    for (const document of documents) {
      const current = await latestRow(tx, document.id);
      if (current && saysTheSame(current, document)) continue;
      const base_revision_id = current?.revision_id ?? null;
      const revision = { ...by, revision_id: uuid7(), base_revision_id, document };
      await insertRevision(tx, revision, (current?.rev ?? 0) + 1, now);
      saved++;
    }
    const campaign_ids = documents.filter((d) => d.kind === 'campaign').map((d) => d.id);
    return { outcome: 'imported', saved, unchanged: documents.length - saved, attachments, campaign_ids };
  });
}

async function clashingKinds(tx: Database, documents: readonly AnyDocument[]): Promise<Problem[]> {
  const problems: Problem[] = [];
  for (const [i, document] of documents.entries()) {
    const current = await latestRow(tx, document.id);
    if (current)
      problems.push(...kindProblems(current, document).map((p) => problemUnder(['documents', i], p)));
  }
  return problems;
}

/** Stores the files of an archive; gives how many were not here yet. */
async function importFiles(tx: Database, files: Archive['attachments'], now: Date): Promise<number> {
  let added = 0;
  for (const { base64, media_type, name } of files) {
    const stored = await storeAttachment(tx, Buffer.from(base64, 'base64'), { media_type, name }, now);
    if (stored.outcome === 'saved') added++;
  }
  return added;
}

/** Everything core checks, and what it leaves to the store: files that fit their hash. */
function checkForImport(input: unknown): Checked<Archive> {
  const huge = sizeOf(input);
  if (huge) return { ok: false, problems: [huge] };
  const checked = checkArchive(input);
  if (!checked.ok) return checked;
  const problems: Problem[] = [];
  checked.value.documents.forEach((document, i) => {
    problems.push(...belongingProblems(document).map((p) => problemUnder(['documents', i], p)));
  });
  checked.value.attachments.forEach((file, i) => {
    problems.push(...fileProblems(file).map((p) => problemUnder(['attachments', i], p)));
  });
  return problems.length > 0 ? { ok: false, problems } : checked;
}

function sizeOf(input: unknown): Problem | undefined {
  const lists = new Map(Object.entries(typeof input === 'object' && input !== null ? input : {}));
  const documents: unknown = lists.get('documents');
  lists.delete('documents');
  const huge = sizeProblem(Object.fromEntries(lists), MAX_ENTRIES);
  if (huge || !Array.isArray(documents)) return huge;
  for (const [i, document] of documents.entries()) {
    const found = sizeProblem(document, MAX_ENTRIES, ['documents', i]);
    if (found) return found;
  }
  return undefined;
}

function fileProblems(file: Archive['attachments'][number]): Problem[] {
  const problems = attachmentProblems(file);
  if (!/^[A-Za-z0-9+/]*={0,2}$/.test(file.base64))
    return [...problems, storeProblem(['base64'], 'not_base64')];
  const value = hashOf(Buffer.from(file.base64, 'base64'));
  if (value !== file.hash) problems.push(storeProblem(['base64'], 'wrong_hash', { value }));
  return problems;
}
