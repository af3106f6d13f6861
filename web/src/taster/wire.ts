import type { AnswerReceipt, AnswerRequest, Hello, Joined, JoinRequest, TasterSheet } from '@pourline/core';

/** What came back: a value, a refusal in a sentence, or nothing at all. */
export type Told<T> =
  | { is: 'ok'; value: T; took_ms: number }
  | { is: 'refused'; status: number; sentence: string }
  | { is: 'away' };

const PATIENCE_MS = 10_000;

async function ask<T>(
  method: 'GET' | 'POST',
  path: string,
  token: string | null,
  body?: unknown,
): Promise<Told<T>> {
  const began = performance.now();
  try {
    const response = await fetch(`./api/taster/${path}`, {
      method,
      cache: 'no-store',
      credentials: 'omit',
      headers: {
        ...(token === null ? {} : { authorization: `Bearer ${token}` }),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if (response.ok)
      return { is: 'ok', value: (await response.json()) as T, took_ms: performance.now() - began };
    // A gateway in between, or a server that is just being started again: nobody has refused anything.
    if (response.status >= 500) return { is: 'away' };
    return { is: 'refused', status: response.status, sentence: await sentenceOf(response) };
  } catch {
    return { is: 'away' };
  }
}

/** The sentence of a problem answer: its list of problems, else its detail. */
async function sentenceOf(response: Response): Promise<string> {
  try {
    const problem = (await response.json()) as { detail?: unknown; problems?: { sentence?: unknown }[] };
    const sentences = (problem.problems ?? []).flatMap((p) =>
      typeof p.sentence === 'string' ? [p.sentence] : [],
    );
    if (sentences.length > 0) return sentences.join(' ');
    return typeof problem.detail === 'string' ? problem.detail : response.statusText;
  } catch {
    return response.statusText;
  }
}

export const hello = (): Promise<Told<Hello>> => ask('GET', 'hello', null);
export const join = (request: JoinRequest): Promise<Told<Joined>> => ask('POST', 'join', null, request);
export const fetchSheet = (token: string): Promise<Told<TasterSheet>> => ask('GET', 'sheet', token);
export const sendAnswer = (token: string, answer: AnswerRequest): Promise<Told<AnswerReceipt>> =>
  ask('POST', 'answers', token, answer);
export const leave = (token: string): Promise<Told<TasterSheet>> => ask('POST', 'leave', token, {});

/**
 * Listens to the session until it ends, fails or is stopped; tells of every event. The stream is read by `fetch`, because an event source
 * cannot carry the token in a header, and in an address it would be written into logs.
 * @returns the status when the server refused, 0 when the stream broke
 */
export async function listen(
  token: string,
  stop: AbortSignal,
  tell: (event: string) => void,
): Promise<number> {
  try {
    const response = await fetch('./api/taster/events', {
      cache: 'no-store',
      credentials: 'omit',
      headers: { authorization: `Bearer ${token}`, accept: 'text/event-stream' },
      signal: stop,
    });
    if (!response.ok || !response.body) return response.status;
    tell('open');
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = '';
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      const blocks = (rest + part.value).split(/\r?\n\r?\n/);
      rest = blocks.pop() ?? '';
      for (const block of blocks) {
        const name = /^event:\s*(.*)$/m.exec(block)?.[1];
        if (name !== undefined || /^data:/m.test(block)) tell(name ?? 'message');
      }
    }
    return 0;
  } catch {
    return 0;
  }
}
