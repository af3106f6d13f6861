import { z } from 'zod';
import { hash, moment } from './fields.ts';
import { type Checked, checkSchema, type Problem, problem } from './problem.ts';
import { type AnyDocument, checkDocument } from './registry.ts';

/** Mark at the head of an archive. */
export const ARCHIVE_FORMAT = 'pourline-archive';

const envelope = z.strictObject({
  format: z.literal(ARCHIVE_FORMAT),
  version: z.literal(1),
  exported_at: moment.optional(),
  documents: z.array(z.unknown()).max(200_000),
  attachments: z
    .array(
      z.strictObject({
        hash,
        media_type: z.string().max(120),
        name: z.string().max(200),
        base64: z.string(),
      }),
    )
    .max(10_000)
    .default([]),
});

/** A campaign in one readable JSON file: its documents as they stand now, and its attachments. */
export interface Archive extends Omit<z.infer<typeof envelope>, 'documents'> {
  documents: AnyDocument[];
}

/** Checks a whole archive; problems carry the path `documents, row n …`. Never throws. */
export function checkArchive(input: unknown): Checked<Archive> {
  const newer = newerArchive(input);
  if (newer) return { ok: false, problems: [newer] };
  const head = checkSchema(envelope, input);
  if (!head.ok) return head;
  const problems: Problem[] = [];
  const documents: AnyDocument[] = [];
  const seen = new Set<string>();
  head.value.documents.forEach((body, i) => {
    const checked = checkDocument(body);
    if (checked.ok) {
      const { id } = checked.value;
      if (seen.has(id)) problems.push(problem(['documents', i, 'id'], 'duplicate_id', { value: id }));
      seen.add(id);
      documents.push(checked.value);
    } else
      problems.push(...checked.problems.map((p) => problem(['documents', i, ...p.path], p.code, bare(p))));
  });
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: { ...head.value, documents } };
}

/** An archive of a later version of this program is told apart from a broken one. */
function newerArchive(input: unknown): Problem | undefined {
  if (typeof input !== 'object' || input === null || !('format' in input) || !('version' in input)) return;
  const { format, version } = input;
  if (format !== ARCHIVE_FORMAT || typeof version !== 'number' || !(version > 1)) return;
  return problem(['version'], 'newer_version', { value: version, kind: 'archive', limit: 1 });
}

function bare(p: Problem): Record<string, string | number> {
  const { field: _, ...values } = p.values;
  return values;
}

/** Wraps documents as an archive. The moment is the caller's: core has no clock. */
export function makeArchive(
  documents: readonly AnyDocument[],
  exported_at: string,
  attachments: Archive['attachments'] = [],
): Archive {
  return { format: ARCHIVE_FORMAT, version: 1, exported_at, documents: [...documents], attachments };
}
