import type {
  HostAct,
  HostAnswer,
  HostView,
  PourSheetLine,
  Problem,
  SessionSummary,
  Sharing,
} from '@pourline/core';

/** What came back from the server: a value, a refusal with its sentences, or nothing. */
export type Told<T> =
  | { is: 'ok'; value: T }
  | { is: 'refused'; status: number; sentence: string; problems: readonly Problem[] }
  | { is: 'away' };

async function ask<T>(method: 'GET' | 'POST', path: string, body?: unknown): Promise<Told<T>> {
  try {
    const response = await fetch(`./api/${path}`, {
      method,
      cache: 'no-store',
      ...(body === undefined
        ? {}
        : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
      signal: AbortSignal.timeout(15_000),
    });
    if (response.ok) return { is: 'ok', value: (await response.json()) as T };
    const problem = (await response.json().catch(() => ({}))) as { detail?: string; problems?: Problem[] };
    const problems = problem.problems ?? [];
    const sentence = problems.map((p) => p.sentence).join(' ') || problem.detail || response.statusText;
    return { is: 'refused', status: response.status, sentence, problems };
  } catch {
    return { is: 'away' };
  }
}

export const listSessions = (): Promise<Told<{ sessions: SessionSummary[] }>> => ask('GET', 'tastings');
export const openSession = (request_id: string, document_id: string): Promise<Told<HostView>> =>
  ask('POST', 'tastings', { request_id, document_id });
export const viewSession = (id: string): Promise<Told<HostView>> => ask('GET', `tastings/${id}`);
export const actOn = (id: string, action_id: string, act: HostAct): Promise<Told<HostView>> =>
  ask('POST', `tastings/${id}/actions`, { action_id, act });
export const pourSheet = (id: string): Promise<Told<{ lines: PourSheetLine[] }>> =>
  ask('GET', `tastings/${id}/pour-sheet`);
export const sharing = (): Promise<Told<Sharing>> => ask('GET', 'sharing');
export const setSharing = (share: boolean): Promise<Told<Sharing>> => ask('POST', 'sharing', { share });

/** An event of a session. */
export type SessionEvent =
  | { is: 'changed' }
  | { is: 'answer'; answer: HostAnswer }
  | { is: 'open' }
  | { is: 'broken' };

/** Listens to a session until stopped; the browser opens the stream again by itself when it breaks. */
export function listenTo(id: string, tell: (event: SessionEvent) => void): () => void {
  const source = new EventSource(`./api/tastings/${id}/events`);
  source.addEventListener('open', () => tell({ is: 'open' }));
  source.addEventListener('error', () => tell({ is: 'broken' }));
  source.addEventListener('changed', () => tell({ is: 'changed' }));
  source.addEventListener('answer', (event) => {
    tell({ is: 'answer', answer: JSON.parse((event as MessageEvent<string>).data) as HostAnswer });
  });
  return () => source.close();
}
