import { createHash } from 'node:crypto';
import { type Problem, problemsFromZod } from '@pourline/core';
import { z } from 'zod';
import { storeProblem } from './problems.ts';
import { isPlainText } from './revision-input.ts';
import type { Database } from './schema.ts';
import type { Attachment, AttachmentInfo, AttachmentResult } from './types.ts';

/** Largest attachment by default [bytes]. */
export const MAX_ATTACHMENT_BYTES = 32 * 1024 * 1024;

const token = "[!#$%&'*+.^_`|~0-9A-Za-z-]+";
/** Type/subtype with optional parameters, RFC 9110 section 8.3.1. */
const mediaType = new RegExp(
  `^${token}/${token}([ \\t]*;[ \\t]*${token}=(${token}|"[^"\\\\\\p{Cc}]*"))*$`,
  'u',
);

const about = z.object({
  media_type: z.string().max(120),
  name: z.string().trim().min(1).max(200),
});

/** {@link Store.putAttachment} */
export async function putAttachment(
  db: Database,
  content: Uint8Array | AsyncIterable<Uint8Array>,
  input: { media_type: string; name: string },
  limit_bytes: number,
  now: () => Date,
): Promise<AttachmentResult> {
  const problems = attachmentProblems(input);
  if (problems.length > 0) return { outcome: 'invalid', problems };
  const bytes = await gather(content, limit_bytes);
  if (bytes === null) return { outcome: 'too_big', limit_bytes };
  return storeAttachment(db, bytes, { media_type: input.media_type, name: input.name.trim() }, now());
}

/** What is wrong with an attachment's name and media type. */
export function attachmentProblems(input: { media_type: string; name: string }): Problem[] {
  const parsed = about.safeParse(input, { reportInput: true });
  if (!parsed.success) return problemsFromZod(parsed.error.issues);
  const problems: Problem[] = [];
  if (!isPlainText(input.name)) problems.push(storeProblem(['name'], 'control_characters'));
  if (!mediaType.test(input.media_type))
    problems.push(storeProblem(['media_type'], 'not_a_media_type', { value: input.media_type.slice(0, 60) }));
  return problems;
}

/** Writes bytes that passed every check; keeps what is there under the same hash. */
export async function storeAttachment(
  db: Database,
  bytes: Uint8Array,
  info: { media_type: string; name: string },
  now: Date,
): Promise<AttachmentResult & { outcome: 'saved' | 'already' }> {
  const hash = hashOf(bytes);
  const found = await attachmentInfo(db, hash);
  if (found) return { outcome: 'already', attachment: found };
  const attachment: AttachmentInfo = {
    hash,
    ...info,
    size: bytes.byteLength,
    received_at: now.toISOString(),
  };
  const done = await db
    .insertInto('attachments')
    .values({ ...attachment, bytes })
    .onConflict((clash) => clash.column('hash').doNothing())
    .executeTakeFirst();
  return { outcome: done.numInsertedOrUpdatedRows === 0n ? 'already' : 'saved', attachment };
}

/** {@link Store.getAttachment} */
export function getAttachment(db: Database, hash: string): Promise<Attachment | undefined> {
  return db.selectFrom('attachments').selectAll().where('hash', '=', hash).executeTakeFirst();
}

/** Content hash as attachments are named by: SHA-256, lower-case hex. */
export function hashOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

function attachmentInfo(db: Database, hash: string): Promise<AttachmentInfo | undefined> {
  return db
    .selectFrom('attachments')
    .select(['hash', 'media_type', 'name', 'size', 'received_at'])
    .where('hash', '=', hash)
    .executeTakeFirst();
}

/** Reads a stream to its end, or gives null as soon as it is longer than the limit. */
async function gather(
  content: Uint8Array | AsyncIterable<Uint8Array>,
  limit_bytes: number,
): Promise<Uint8Array | null> {
  if (content instanceof Uint8Array) return content.byteLength > limit_bytes ? null : content;
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of content) {
    size += chunk.byteLength;
    if (size > limit_bytes) return null;
    chunks.push(chunk);
  }
  return Buffer.concat(chunks, size);
}
