import { CORE_VERSION, families, KINDS } from '@pourline/core';
import type { FastifyInstance } from 'fastify';
import { SERVER_VERSION } from '../version.ts';
import { address, type Context } from './context.ts';

/** `/api/about` and `/api/health`. */
export function aboutRoutes(app: FastifyInstance, { store, live }: Context): void {
  const kinds = Object.fromEntries(KINDS.map((kind) => [kind, families[kind].version]));
  address(app, '/api/about', {
    GET: async () => ({
      name: 'pourline',
      version: SERVER_VERSION,
      core_version: CORE_VERSION,
      /** Newest version of each kind of document. */
      kinds,
    }),
  });
  address(app, '/api/health', {
    GET: async () => ({ status: 'ok', seq: await store.lastSeq(), streams: live.open }),
  });
}
