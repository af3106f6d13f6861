import type { FastifyInstance, FastifyRequest } from 'fastify';
import { makeDoor, openDoor } from '../door.ts';
import { pathOf } from '../pages.ts';
import { ProblemError, problemDetails } from '../problem.ts';
import type { Context } from '../routes/context.ts';
import { sharedRoutes } from '../routes/shared-routes.ts';
import type { Uploads } from '../uploads.ts';
import { mayAsk } from './access.ts';
import { pairRoute } from './device-routes.ts';
import { TASTING_LIMITS } from './limits.ts';
import { Rate } from './rate.ts';
import { notForYou } from './refusals.ts';
import { serveSharedPages } from './shared-pages.ts';
import { tasterFiles } from './taster-pages.ts';
import { tasterRoutes } from './taster-routes.ts';
import { type Asker, askerOf } from './who.ts';

export interface SharedDoorOptions {
  webRoot: string | undefined;
  logger: boolean | object | undefined;
  uploads: Uploads;
}

/**
 * The server behind the door for other machines. It is a server of its own with its own rules: what is not allowed to who asks is refused before
 * any route is looked for, and archives, sharing and pairing codes have no route here at all.
 */
export async function makeSharedDoor(
  own: Context,
  { webRoot, logger, uploads }: SharedDoorOptions,
): Promise<FastifyInstance> {
  const rate = new Rate();
  const pages = tasterFiles(webRoot);
  const askers = new WeakMap<FastifyRequest, Asker>();
  const nobody: Asker = { role: 'anyone', name: '' };
  const app = makeDoor({
    logger,
    allowedHosts: () => new Set(own.sharing.names()),
    request_ms: TASTING_LIMITS.request_ms,
    admit: async (request) => {
      if (!rate.allows(request.ip, own.now())) throw tooFast();
      const asker = await askerOf(request, 'shared', own.store, own.now());
      askers.set(request, asker);
      const path = pathOf(request);
      if (!path.startsWith('/api')) return;
      if (asker.role === 'owner' || !mayAsk(asker.role, request.method, path)) throw notForYou();
    },
  });
  app.server.maxConnections = TASTING_LIMITS.connections;
  const context: Context = { ...own, asker: (request) => askers.get(request) ?? nobody };
  sharedRoutes(app, context, uploads);
  pairRoute(app, context);
  tasterRoutes(app, context);
  await serveSharedPages(app, webRoot, pages, (request) => context.asker(request).role);
  return openDoor(app);
}

const tooFast = (): ProblemError =>
  new ProblemError(
    problemDetails(429, 'too-fast', 'Too fast', 'Too many requests came from this device. Wait a second.'),
    { 'retry-after': '1' },
  );
