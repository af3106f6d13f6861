import type { IncomingMessage } from 'node:http';
import type { FastifyRequest } from 'fastify';
import { inMegabytes, LIMITS } from './limits.ts';
import { ProblemError, problemDetails, tooLarge, unreadable } from './problem.ts';

/**
 * Refuses a body that says it is too long before any of it is read.
 * @param what what is being sent, for the sentence: `'The file'`
 */
export function refuseTooLong(request: FastifyRequest, limit: number, what: string): void {
  const said = Number(request.headers['content-length'] ?? 0);
  if (said > limit) throw new ProblemError(tooLargeSentence(what, limit, said));
}

export function tooLargeSentence(what: string, limit: number, size?: number) {
  const is = size === undefined ? 'is too large' : `has ${inMegabytes(size)}`;
  return tooLarge(`${what} ${is}; at most ${inMegabytes(limit)} can be taken in.`, limit);
}

/** The body as it arrives. The request stays open when reading stops early, so that it can still be answered. */
export function bodyChunks(request: FastifyRequest): AsyncIterable<Uint8Array> {
  return request.raw.iterator({ destroyOnReturn: false });
}

/**
 * Reads a JSON body.
 * @throws ProblemError 400 not JSON, 413 longer than `limit`, 415 not said to be JSON
 */
export async function readJson(request: FastifyRequest, limit: number, what: string): Promise<unknown> {
  const type = request.headers['content-type'] ?? '';
  if (!/^application\/(?:[a-z0-9.+-]+\+)?json\s*(?:;|$)/i.test(type))
    throw new ProblemError(
      problemDetails(
        415,
        'not-json',
        'Not JSON',
        `${what} must be sent as application/json, not as ${type === '' ? 'nothing said' : `"${type.slice(0, 60)}"`}.`,
      ),
    );
  refuseTooLong(request, limit, what);
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of bodyChunks(request)) {
    size += chunk.byteLength;
    if (size > limit) throw new ProblemError(tooLargeSentence(what, limit));
    chunks.push(chunk);
  }
  return parseJson(Buffer.concat(chunks, size), what);
}

function parseJson(bytes: Uint8Array, what: string): unknown {
  if (bytes.byteLength === 0)
    throw new ProblemError(unreadable(`${what} is empty; it must be sent as JSON.`));
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new ProblemError(unreadable(`${what} is not valid UTF-8 text; JSON must be.`));
  }
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    const detail = error instanceof Error ? error.message : 'it cannot be read';
    throw new ProblemError(unreadable(`${what} is not valid JSON: ${detail}.`));
  }
}

/**
 * After an answer that came before the whole body: reads on for a while and throws it away, because closing at once
 * would take the answer from a sender that is still sending (RFC 9112 section 9.6).
 */
export function drainRest(request: IncomingMessage): void {
  if (request.complete !== false || request.destroyed) return;
  request.resume();
  const timer = setTimeout(() => request.destroy(), LIMITS.linger_ms).unref();
  const stop = (): void => clearTimeout(timer);
  request.once('end', stop);
  request.once('close', stop);
}
