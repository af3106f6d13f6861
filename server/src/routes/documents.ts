import type { RevisionInput } from '@pourline/store';
import type { FastifyInstance } from 'fastify';
import { readJson } from '../body.ts';
import { LIMITS } from '../limits.ts';
import { notFound, ProblemError, problemDetails, unprocessable, unreadable } from '../problem.ts';
import { address, type Context, isId, pathValue, queryValue, wholeNumber } from './context.ts';

/** `/api/documents`, `/api/documents/:id/revisions` and `/api/revisions`. */
export function documentRoutes(app: FastifyInstance, { store, live }: Context): void {
  address(app, '/api/documents', {
    GET: async (request) => {
      const text = queryValue(request, 'since') ?? '0';
      const since = wholeNumber(text);
      if (since === undefined)
        throw new ProblemError(
          unreadable(
            `since is "${text.slice(0, 60)}"; it must be a whole number, 0 or the last seq that was seen.`,
          ),
        );
      return store.latest(since);
    },
  });

  address(app, '/api/documents/:id/revisions', {
    GET: async (request) => {
      const id = pathValue(request, 'id');
      const revisions = isId(id) ? await store.history(id) : [];
      if (revisions.length === 0)
        throw new ProblemError(notFound(`There is no document with the id "${id.slice(0, 60)}" here.`));
      return { revisions };
    },
  });

  address(app, '/api/revisions', {
    POST: async (request, reply) => {
      const yours = await readJson(request, LIMITS.revision_bytes, 'The revision');
      const result = await store.appendRevision(yours as RevisionInput);
      if (result.outcome === 'invalid') throw new ProblemError(unprocessable(result.problems));
      if (result.outcome === 'clash')
        throw new ProblemError(
          problemDetails(
            409,
            'clash',
            'Clash',
            'This document was changed in the meantime. Nothing is lost: choose between both versions or merge them.',
            { current: result.current, yours },
          ),
        );
      if (result.outcome === 'saved') void live.tell();
      return reply.code(result.outcome === 'saved' ? 201 : 200).send({ revision: result.revision });
    },
  });
}
