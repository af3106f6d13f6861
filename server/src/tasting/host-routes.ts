import { hostAction, openRequest } from '@pourline/core';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { notFound, ProblemError } from '../problem.ts';
import { address, type Context, isId, pathValue } from '../routes/context.ts';
import { beginStream, readChecked } from './taster-routes.ts';

/** `/api/tastings/…`: opening, watching and ending sessions. Who may do what is decided before a request comes here. */
export function hostRoutes(app: FastifyInstance, { tastings, asker }: Context): void {
  address(app, '/api/tastings', {
    GET: async () => ({ sessions: await tastings.list() }),
    POST: async (request, reply) => {
      const { view, opened } = await tastings.open(await readChecked(request, openRequest, 'The request'));
      return reply.code(opened ? 201 : 200).send(view);
    },
  });

  address(app, '/api/tastings/:id', {
    GET: async (request) => tastings.view(sessionId(request), asker(request).role === 'coach'),
  });

  address(app, '/api/tastings/:id/actions', {
    POST: async (request) =>
      tastings.act(sessionId(request), await readChecked(request, hostAction, 'The action')),
  });

  address(
    app,
    '/api/tastings/:id/pour-sheet',
    {
      GET: async (request) => ({ lines: await tastings.pourSheet(sessionId(request), asker(request).name) }),
    },
    false,
  );

  const stream = async (request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply> => {
    const id = sessionId(request);
    // Before the head goes out, so that a session that is not there is a plain 404.
    await tastings.view(id, true);
    beginStream(reply);
    await tastings.streams.addHost(reply.raw, id);
    return reply;
  };
  address(app, '/api/tastings/:id/events', { GET: stream }, false);
}

function sessionId(request: FastifyRequest): string {
  const id = pathValue(request, 'id');
  if (!isId(id))
    throw new ProblemError(notFound(`There is no session with the id "${id.slice(0, 60)}" here.`));
  return id;
}
