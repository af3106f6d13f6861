import { join } from 'node:path';
import { openStore, type Revision, type RevisionInput, type Store } from '@pourline/store';
import { temporaryFolders } from '@pourline/store/testing';
import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import { afterEach, expect } from 'vitest';
import { createServer, type Running, type ServerOptions, startServer } from '../src/index.ts';

export interface Served {
  app: FastifyInstance;
  store: Store;
  folder: string;
}

/** Makes servers on fresh stores, without a socket; closes them after each test. */
export function servers(): (options?: Partial<ServerOptions>) => Promise<Served> {
  const folder = temporaryFolders();
  const made: Served[] = [];
  afterEach(async () => {
    for (const { app, store } of made.splice(0)) {
      await app.close();
      await store.close();
    }
  });
  return async (options = {}) => {
    const place = await folder();
    const store = await openStore({ file: join(place, 'a.sqlite') });
    const served = { app: await createServer({ store, logger: false, ...options }), store, folder: place };
    made.push(served);
    return served;
  };
}

/** Starts listening servers on free ports, on fresh databases; closes them after each test. */
export function listeningServers(): (options?: { allowedHosts?: string[] }) => Promise<Running> {
  const folder = temporaryFolders();
  const made: Running[] = [];
  afterEach(async () => {
    for (const running of made.splice(0)) await running.close();
  });
  return async (options = {}) => {
    const file = join(await folder(), 'a.sqlite');
    const running = await startServer({ file, port: 0, logger: false, ...options });
    made.push(running);
    return running;
  };
}

/** Sends one revision. */
export const post = (app: FastifyInstance, revision: RevisionInput): Promise<LightMyRequestResponse> =>
  app.inject({ method: 'POST', url: '/api/revisions', payload: { ...revision } });

/** Sends one revision that must be saved. */
export async function save(app: FastifyInstance, revision: RevisionInput): Promise<Revision> {
  const answer = await post(app, revision);
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json<{ revision: Revision }>().revision;
}

/** Holds for every answer at all: never a failure of ours, and every refusal is a problem with a sentence. */
export function expectDecent(answer: { status: number; type: string; body: string }, what: string): void {
  expect(answer.status, what).toBeLessThan(500);
  if (answer.status < 400) return;
  expect(answer.type, what).toMatch(/^application\/problem\+json/);
  const problem = JSON.parse(answer.body) as Record<string, unknown>;
  expect(problem, what).toMatchObject({ status: answer.status, title: expect.stringMatching(/\S/) });
  expect(problem.type, what).toMatch(/^urn:pourline:problem:[a-z-]+$/);
  expect(problem.detail, what).toMatch(/^\S.*[.?!]$/s);
  expect(answer.body, what).not.toMatch(/node_modules|\.ts:\d|\n\s+at /);
}
