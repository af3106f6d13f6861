import fastifyStatic from '@fastify/static';
import type { Role } from '@pourline/core';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ASK_AGAIN, FOREVER, pathOf, sayHowToBuild } from '../pages.ts';
import { notForYou } from './refusals.ts';
import { TASTER_PAGE, type TasterFiles } from './taster-pages.ts';

/**
 * Pages of the shared door: the taster's page and its files for everybody, the whole app for paired devices. Which files those are was settled
 * when the door opened; everything else is refused whether it exists or not.
 */
export async function serveSharedPages(
  app: FastifyInstance,
  webRoot: string | undefined,
  { page, files }: TasterFiles,
  roleOf: (request: FastifyRequest) => Role,
): Promise<void> {
  if (webRoot !== undefined && page !== null)
    await app.register(fastifyStatic, {
      root: webRoot,
      serve: false,
      cacheControl: false,
      preCompressed: true,
    });
  const send = (reply: FastifyReply, file: string): FastifyReply => {
    if (page === null) return sayHowToBuild(reply);
    void reply.header('cache-control', file.startsWith('assets/') ? FOREVER : ASK_AGAIN);
    return reply.sendFile(file);
  };
  app.setNotFoundHandler(async (request, reply) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') throw notForYou();
    const path = pathOf(request);
    if (path === TASTER_PAGE) return send(reply, page ?? '');
    if (files.has(path)) return send(reply, path.slice(1));
    const role = roleOf(request);
    if (role === 'host' || role === 'coach') return sendApp(path, reply, send);
    if (path === '/') return reply.redirect(TASTER_PAGE);
    throw notForYou();
  });
}

/** Any file or page of the app, for a paired device. The demo campaign is not among them: it may hold sessions. */
function sendApp(
  path: string,
  reply: FastifyReply,
  send: (reply: FastifyReply, file: string) => FastifyReply,
): FastifyReply {
  const isFile = /\.[^/]*$/.test(path) || path.startsWith('/assets/');
  if (path.endsWith('.json') && !path.endsWith('.webmanifest')) throw notForYou();
  return send(reply, isFile ? path.slice(1) : 'index.html');
}
