import { type Archive, checkArchive, isKind, type Kind, type Problem } from '@pourline/core';
import { z } from 'zod';
import type { Revision } from './api.ts';

/** A revision as the server sends it. The body is checked where it is read, because older ones are brought up to date. */
const revision = z.object({
  revision_id: z.string(),
  document_id: z.string(),
  campaign_id: z.string(),
  kind: z.custom<Kind>(isKind),
  rev: z.number(),
  base_revision_id: z.string().nullable(),
  author: z.string(),
  device: z.string(),
  at: z.string(),
  body: z.unknown(),
  seq: z.number(),
});

const page = z.object({
  seq: z.number(),
  /** Changes when the server's store is replaced by another, such as a restored backup. */
  history_id: z.string().default(''),
  revisions: z.array(z.unknown()),
});
const listed = z.object({ revisions: z.array(z.unknown()) });
const problems = z.object({
  problems: z.array(
    z.object({
      path: z.array(z.union([z.string(), z.number()])),
      code: z.string(),
      values: z.record(z.string(), z.union([z.string(), z.number()])),
      sentence: z.string(),
    }),
  ),
});

/** One revision, or null when it is not one this program can read (a kind from a newer version). */
export function readRevision(input: unknown): Revision | null {
  const parsed = revision.safeParse(input);
  return parsed.success ? { ...parsed.data, body: parsed.data.body } : null;
}

/** How the server answered a question. */
export type Answer<T> =
  | { answer: 'ok'; value: T }
  /** It does not answer, or not as itself (a proxy, a captive page). */
  | { answer: 'silent' };

/** How the server answered a state that was sent to it. */
export type Reply =
  | { reply: 'taken'; revision: Revision }
  | { reply: 'clash'; current: Revision }
  | { reply: 'refused'; problems: readonly Problem[] }
  | { reply: 'silent' };

/** Wait for an answer before the server counts as gone [ms]. */
const PATIENCE_ms = 15_000;

async function ask(url: string, init?: RequestInit): Promise<Response | null> {
  try {
    return await fetch(url, { ...init, signal: AbortSignal.timeout(PATIENCE_ms), cache: 'no-store' });
  } catch {
    return null;
  }
}

async function json(response: Response): Promise<unknown> {
  if (!/json/.test(response.headers.get('content-type') ?? '')) return undefined;
  try {
    return await response.json();
  } catch {
    return undefined;
  }
}

/** Looks who is there: our server, nobody, or a static host that knows no such address. */
export async function about(): Promise<'pourline' | 'nobody' | 'static'> {
  const response = await ask('api/about');
  if (!response) return 'nobody';
  const body = response.ok ? await json(response) : undefined;
  if (typeof body === 'object' && body !== null && 'name' in body && body.name === 'pourline')
    return 'pourline';
  return response.status >= 500 ? 'nobody' : 'static';
}

/** Everything newer than `since`, oldest first. */
export async function pull(
  since: number,
): Promise<Answer<{ seq: number; history_id: string; revisions: Revision[] }>> {
  const response = await ask(`api/documents?since=${since}`);
  const parsed = response?.ok ? page.safeParse(await json(response)) : undefined;
  if (!parsed?.success) return { answer: 'silent' };
  const revisions = parsed.data.revisions.flatMap((entry) => readRevision(entry) ?? []);
  return { answer: 'ok', value: { ...parsed.data, revisions } };
}

/** All states of one document. */
export async function pullHistory(document_id: string): Promise<Answer<Revision[]>> {
  const response = await ask(`api/documents/${document_id}/revisions`);
  const body = response?.ok ? await json(response) : undefined;
  const parsed = listed.safeParse(Array.isArray(body) ? { revisions: body } : body);
  return parsed.success
    ? { answer: 'ok', value: parsed.data.revisions.flatMap((entry) => readRevision(entry) ?? []) }
    : { answer: 'silent' };
}

/** Sends one state. */
export async function push(revision: Revision): Promise<Reply> {
  const { revision_id, document_id, base_revision_id, author, device, at, body } = revision;
  const response = await ask('api/revisions', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ revision_id, document_id, base_revision_id, author, device, at, body }),
  });
  if (!response) return { reply: 'silent' };
  const answer = await json(response);
  const field = (name: string): unknown =>
    typeof answer === 'object' && answer !== null ? (answer as Record<string, unknown>)[name] : undefined;
  if (response.ok) {
    const taken = readRevision(field('revision') ?? answer);
    return taken ? { reply: 'taken', revision: taken } : { reply: 'silent' };
  }
  if (response.status === 409) {
    const current = readRevision(field('current'));
    if (current) return { reply: 'clash', current };
  }
  if (response.status === 422 || response.status === 400 || response.status === 413) {
    const read = problems.safeParse(answer);
    const detail = field('detail');
    return {
      reply: 'refused',
      problems: read.success
        ? read.data.problems
        : [{ path: [], code: 'refused', values: {}, sentence: typeof detail === 'string' ? detail : '' }],
    };
  }
  return { reply: 'silent' };
}

/** Sends one attachment; true when it is on the server's disk. */
export async function pushAttachment(name: string, media_type: string, data: ArrayBuffer): Promise<boolean> {
  const response = await ask(`api/attachments?name=${encodeURIComponent(name)}`, {
    method: 'POST',
    headers: { 'content-type': media_type },
    body: data,
  });
  return response?.ok ?? false;
}

/** A campaign as the server exports it, attachments included; null when it does not answer. */
export async function fetchArchive(campaign_id: string): Promise<Archive | null> {
  const response = await ask(`api/campaigns/${campaign_id}/archive`);
  const checked = response?.ok ? checkArchive(await json(response)) : undefined;
  return checked?.ok ? checked.value : null;
}
