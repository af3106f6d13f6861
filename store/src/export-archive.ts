import { type AnyDocument, type Archive, checkDocument, KINDS, makeArchive } from '@pourline/core';
import { getAttachment } from './attachments.ts';
import { attachedTo } from './remap.ts';
import type { Database } from './schema.ts';

/** {@link Store.exportCampaign} */
export async function exportCampaign(
  db: Database,
  campaignId: string,
  now: Date,
): Promise<Archive | undefined> {
  const rows = await db
    .selectFrom('documents')
    .select(['document_id', 'body'])
    .where('campaign_id', '=', campaignId)
    .execute();
  const documents = rows.map((row) => readBody(row.document_id, row.body)).sort(inReadingOrder);
  if (!documents.some((document) => document.kind === 'campaign')) return undefined;
  const attachments: Archive['attachments'] = [];
  for (const hash of [...attachedTo(documents)].sort()) {
    const found = await getAttachment(db, hash);
    if (!found) continue;
    const { media_type, name } = found;
    attachments.push({ hash, media_type, name, base64: Buffer.from(found.bytes).toString('base64') });
  }
  return makeArchive(documents, now.toISOString(), attachments);
}

/**
 * An archive as JSON text, piece by piece: indented for reading, and never one string longer than its longest
 * attachment, which the whole text of a large archive would be.
 */
export function* archiveText(archive: Archive): Generator<string> {
  const { documents, attachments, ...head } = archive;
  yield `${JSON.stringify(head, null, 2).slice(0, -2)},\n`;
  yield* listText('documents', documents);
  yield ',\n';
  yield* listText('attachments', attachments);
  yield '\n}\n';
}

function* listText(name: string, entries: readonly unknown[]): Generator<string> {
  yield `  "${name}": [`;
  let before = '\n';
  for (const entry of entries) {
    yield `${before}    ${JSON.stringify(entry, null, 2).replaceAll('\n', '\n    ')}`;
    before = ',\n';
  }
  yield entries.length > 0 ? '\n  ]' : ']';
}

/** Campaign first, then kind by kind, by name; the same documents always give the same file. */
function inReadingOrder(a: AnyDocument, b: AnyDocument): number {
  const text = (d: AnyDocument) => `${d.name}\n${d.id}`;
  return KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) || (text(a) < text(b) ? -1 : 1);
}

/** @throws Error when core can no longer read what it once accepted: a broken upgrade step */
function readBody(id: string, text: string): AnyDocument {
  const checked = checkDocument(JSON.parse(text));
  if (checked.ok) return checked.value;
  const sentences = checked.problems.map((p) => p.sentence).join(' ');
  throw new Error(`exportCampaign: stored document ${id} no longer passes its check. ${sentences}`);
}
