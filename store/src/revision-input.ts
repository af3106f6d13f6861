import { type AnyDocument, type Checked, checkDocument, type Problem, problemsFromZod } from '@pourline/core';
import { z } from 'zod';
import { storeProblem } from './problems.ts';
import { MAX_ENTRIES, sizeProblem } from './size.ts';

const label = z.string().trim().max(120);

const envelope = z.strictObject({
  revision_id: z.uuid(),
  base_revision_id: z.uuid().nullable(),
  author: label,
  device: label,
  at: z.iso.datetime({ offset: true }),
  body: z.unknown(),
  document_id: z.string().optional(),
  campaign_id: z.string().optional(),
  kind: z.string().optional(),
});

/** A revision that is fit to be saved. */
export interface CheckedRevision {
  revision_id: string;
  base_revision_id: string | null;
  author: string;
  device: string;
  at: string;
  document: AnyDocument;
}

/** Checks what a client sent: the fields around the document, then the document. Reports every problem of both. */
export function checkRevisionInput(input: unknown): Checked<CheckedRevision> {
  const huge = sizeProblem(input, MAX_ENTRIES);
  if (huge) return { ok: false, problems: [huge] };
  const head = envelope.safeParse(input, { reportInput: true });
  const problems = [...(head.success ? [] : problemsFromZod(head.error.issues)), ...plainText(input)];
  const body = typeof input === 'object' && input !== null && 'body' in input ? input.body : undefined;
  const checked = checkDocument(body);
  if (!checked.ok) problems.push(...checked.problems);
  else if (head.success) problems.push(...disagreements(head.data, checked.value));
  if (!head.success || !checked.ok || problems.length > 0) return { ok: false, problems };
  const { revision_id, base_revision_id, author, device, at } = head.data;
  return {
    ok: true,
    value: { revision_id, base_revision_id, author, device, at, document: checked.value },
  };
}

/** Whether a text is plain: no control characters and no half of a surrogate pair. Some databases cut such text. */
export const isPlainText = (text: string): boolean => !/[\p{Cc}\p{Cs}]/u.test(text);

function plainText(input: unknown): Problem[] {
  const fields = new Map(Object.entries(input ?? {}));
  return ['author', 'device']
    .filter((field) => {
      const text: unknown = fields.get(field);
      return typeof text === 'string' && !isPlainText(text);
    })
    .map((field) => storeProblem([field], 'control_characters'));
}

function disagreements(
  said: { document_id?: string | undefined; campaign_id?: string | undefined; kind?: string | undefined },
  document: AnyDocument,
): Problem[] {
  const problems: Problem[] = [];
  const compare = (field: 'document_id' | 'campaign_id' | 'kind', limit: string): void => {
    const value = said[field];
    if (value !== undefined && value !== limit)
      problems.push(storeProblem([field], 'not_the_body', { value: value.slice(0, 60), limit }));
  };
  compare('document_id', document.id);
  compare('campaign_id', document.campaign_id);
  compare('kind', document.kind);
  return [...problems, ...belongingProblems(document)];
}

/** A campaign must name itself as its campaign. */
export function belongingProblems(document: AnyDocument): Problem[] {
  if (document.kind !== 'campaign' || document.campaign_id === document.id) return [];
  return [
    storeProblem(['campaign_id'], 'campaign_of_itself', { value: document.campaign_id, limit: document.id }),
  ];
}
