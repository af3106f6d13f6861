import { mkdtemp, rm } from 'node:fs/promises';
import { request as httpRequest } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  type AnswerRequest,
  type Chance,
  chanceFrom,
  type HostAct,
  type HostView,
  type Joined,
  type JoinRequest,
  type SessionPlan,
  type TasterSheet,
  type Tasting,
} from '@pourline/core';
import { openStore, type Store } from '@pourline/store';
import { makeCampaign, makeRevision, savedIn, temporaryFolders } from '@pourline/store/testing';
import type { FastifyInstance } from 'fastify';
import { v7 as uuid7 } from 'uuid';
import { afterAll, afterEach, expect } from 'vitest';
import { createDoors, type Randomness, type Sharing } from '../src/index.ts';

/** An answer of the server as it came over the wire. */
export interface Exchange {
  method: string;
  path: string;
  status: number;
  headers: Record<string, string | string[] | undefined>;
  body: string;
}

/** What a device sends. */
export interface Asked {
  method?: string;
  path: string;
  token?: string | undefined;
  headers?: Record<string, string>;
  body?: unknown;
}

/** Sends one request over a socket and reads the answer whole. */
export function exchange(
  port: number,
  { method = 'GET', path, token, headers = {}, body }: Asked,
): Promise<Exchange> {
  const text = body === undefined ? undefined : typeof body === 'string' ? body : JSON.stringify(body);
  return new Promise((resolve, reject) => {
    const request = httpRequest(
      {
        host: '127.0.0.1',
        port,
        method,
        path,
        agent: false,
        headers: {
          host: `127.0.0.1:${port}`,
          ...(token === undefined ? {} : { authorization: `Bearer ${token}` }),
          ...(text === undefined
            ? {}
            : { 'content-type': 'application/json', 'content-length': String(Buffer.byteLength(text)) }),
          ...headers,
        },
      },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('error', reject);
        response.on('end', () =>
          resolve({
            method,
            path,
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(chunks).toString('utf8'),
          }),
        );
      },
    );
    request.on('error', reject);
    request.end(text);
  });
}

/** A server with both doors open, whose clock and chance the test holds. */
export interface Hall {
  store: Store;
  app: FastifyInstance;
  sharing: Sharing;
  /** Port of the shared door. */
  port: number;
  clock: { now: number };
  campaign_id: string;
  /** Saves a tasting. */
  save(tasting: Tasting): Promise<Tasting>;
  /** Opens a session for a saved tasting. */
  open(document_id: string): Promise<HostView>;
  act(session_id: string, act: HostAct): Promise<HostView>;
  view(session_id: string): Promise<HostView>;
  /** Which code is which. */
  plan(session_id: string): Promise<SessionPlan>;
}

export interface HallOptions {
  codes?: number;
  orders?: number;
  webRoot?: string;
}

/** Chance that a test can run again: the same codes and ids for the same `codes`, the same contents for the same `orders`. */
export function repeatable(codes: number, orders: number): Randomness {
  const ids: Chance = chanceFrom(codes + 1_000_003);
  const hex = (digits: number) =>
    Array.from({ length: digits }, () => ids.whole(0, 15).toString(16)).join('');
  return {
    codes: chanceFrom(codes),
    orders: chanceFrom(orders),
    secrets: chanceFrom(codes + 7),
    uuid: () => `${hex(8)}-${hex(4)}-4${hex(3)}-8${hex(3)}-${hex(12)}`,
  };
}

/** Opens halls; closes them after each test. */
export function halls(): (options?: HallOptions) => Promise<Hall> {
  const folder = temporaryFolders();
  const made: Hall[] = [];
  afterEach(async () => {
    for (const hall of made.splice(0)) await closeHall(hall);
  });
  return async (options = {}) => {
    const hall = await openHall(join(await folder(), 'a.sqlite'), options);
    made.push(hall);
    return hall;
  };
}

/** One hall for all tests of a file, each with sessions of its own in it. */
export function oneHall(): () => Promise<Hall> {
  let made: Promise<Hall> | undefined;
  let folder = '';
  afterAll(async () => {
    if (made) await closeHall(await made);
    await rm(folder, { recursive: true, force: true });
  });
  const make = async (): Promise<Hall> => {
    folder = await mkdtemp(join(tmpdir(), 'pourline-'));
    return openHall(join(folder, 'a.sqlite'), {});
  };
  return () => {
    made ??= make();
    return made;
  };
}

async function openHall(file: string, { codes = 11, orders = 12, webRoot }: HallOptions): Promise<Hall> {
  const clock = { now: Date.parse('2031-04-02T09:00:00Z') };
  const store = await openStore({ file, now: () => new Date(clock.now) });
  const { app, sharing } = await createDoors({
    store,
    webRoot,
    logger: false,
    now: () => clock.now,
    chance: repeatable(codes, orders),
    sharing: { host: '127.0.0.1', port: 0 },
  });
  await sharing.start();
  const hall = hallOn(store, app, sharing, clock);
  hall.campaign_id = (await saveDocument(store, makeCampaign('Lantern round'))).id;
  return hall;
}

async function closeHall({ app, store }: Hall): Promise<void> {
  await app.close();
  await store.close();
}

async function saveDocument<T extends Parameters<typeof makeRevision>[0]>(store: Store, body: T): Promise<T> {
  savedIn(await store.appendRevision(makeRevision(body)));
  return body;
}

function hallOn(store: Store, app: FastifyInstance, sharing: Sharing, clock: { now: number }): Hall {
  const post = async (url: string, payload: object, status: readonly number[]): Promise<HostView> => {
    const answer = await app.inject({ method: 'POST', url, payload });
    expect(status, `${url} ${answer.body}`).toContain(answer.statusCode);
    return answer.json<HostView>();
  };
  return {
    store,
    app,
    sharing,
    clock,
    port: Number(new URL(sharing.addresses()[0]!).port),
    campaign_id: '',
    async save(tasting) {
      return saveDocument(store, { ...tasting, id: uuid7(), campaign_id: this.campaign_id });
    },
    open: (document_id) => post('/api/tastings', { request_id: uuid7(), document_id }, [200, 201]),
    act: (id, act) => post(`/api/tastings/${id}/actions`, { action_id: uuid7(), act }, [200]),
    view: async (id) => (await app.inject(`/api/tastings/${id}`)).json<HostView>(),
    plan: async (id) => (await store.tastings.now(id))!.session.plan,
  };
}

/** Port of a door that listens. */
export const portOf = (app: FastifyInstance): number => (app.server.address() as AddressInfo).port;

export const CARE: JoinRequest['care'] = {
  adult: true,
  pregnant_or_lactating: false,
  allergens: [],
  flags: [],
  taken_today_mg: 0,
  spits: true,
};

/** What a device sends to join. */
export const joining = (code: string, name: string, more: Partial<JoinRequest> = {}): JoinRequest => ({
  join_id: uuid7(),
  code,
  name,
  care: CARE,
  device_at: '2031-04-02T09:00:00.000Z',
  ...more,
});

/** A taster's device that keeps everything it ever got. */
export class Phone {
  readonly traffic: Exchange[] = [];
  token: string | undefined;
  sheet: TasterSheet | undefined;
  readonly #port: number;

  constructor(port: number) {
    this.#port = port;
  }

  async ask(asked: Asked): Promise<Exchange> {
    const got = await exchange(this.#port, { token: this.token, ...asked });
    this.traffic.push(got);
    return got;
  }

  async join(request: JoinRequest): Promise<Exchange> {
    const got = await this.ask({ method: 'POST', path: '/api/taster/join', body: request, token: undefined });
    if (got.status === 201) {
      const joined = JSON.parse(got.body) as Joined;
      this.token = joined.token;
      this.sheet = joined.sheet;
    }
    return got;
  }

  async look(): Promise<TasterSheet> {
    const got = await this.ask({ path: '/api/taster/sheet' });
    expect(got.status, got.body).toBe(200);
    this.sheet = JSON.parse(got.body) as TasterSheet;
    return this.sheet;
  }

  answer(request: AnswerRequest): Promise<Exchange> {
    return this.ask({ method: 'POST', path: '/api/taster/answers', body: request });
  }
}

/** The problem in an answer. */
export const problemIn = ({
  body,
}: Exchange): { type: string; detail: string; problems?: { code: string }[] } =>
  JSON.parse(body) as { type: string; detail: string; problems?: { code: string }[] };
