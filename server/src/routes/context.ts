import type { Store } from '@pourline/store';
import type { FastifyInstance, FastifyReply, FastifyRequest, HTTPMethods } from 'fastify';
import type { Live } from '../live.ts';
import { ProblemError, problemDetails } from '../problem.ts';
import type { Pairing } from '../tasting/pairing.ts';
import type { Sharing } from '../tasting/sharing.ts';
import type { Tastings } from '../tasting/tastings.ts';
import type { Asker } from '../tasting/who.ts';

/** What every route works with. */
export interface Context {
  store: Store;
  live: Live;
  tastings: Tastings;
  pairing: Pairing;
  sharing: Sharing;
  /** The server's clock [ms]. */
  now: () => number;
  /** Who sent a request; known once it has passed the door. */
  asker: (request: FastifyRequest) => Asker;
}

type Handler = (request: FastifyRequest, reply: FastifyReply) => Promise<unknown>;

const METHODS: readonly HTTPMethods[] = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'];

/**
 * Declares an address with the methods it knows; any other is answered with 405 and the list.
 * @param head answer HEAD like GET; not for a stream without end
 */
export function address(
  app: FastifyInstance,
  url: string,
  handlers: Partial<Record<'GET' | 'POST', Handler>>,
  head = true,
): void {
  const known: HTTPMethods[] = [];
  for (const [method, handler] of Object.entries(handlers) as ['GET' | 'POST', Handler][]) {
    const exposeHeadRoute = method === 'GET' && head;
    known.push(...((exposeHeadRoute ? ['GET', 'HEAD'] : [method]) as HTTPMethods[]));
    app.route({ method, url, handler, exposeHeadRoute });
  }
  const allow = known.join(', ');
  app.route({
    method: METHODS.filter((method) => !known.includes(method)),
    url,
    exposeHeadRoute: false,
    handler: async (request) => {
      throw new ProblemError(
        problemDetails(
          405,
          'wrong-method',
          'Wrong method',
          `${request.method} is not possible here; use ${allow}.`,
        ),
        { allow },
      );
    },
  });
}

/** One value of the query, or undefined; a name that is given twice counts as not given. */
export function queryValue(request: FastifyRequest, name: string): string | undefined {
  const query = request.query as Record<string, unknown>;
  const value = Object.hasOwn(query, name) ? query[name] : undefined;
  return typeof value === 'string' ? value : undefined;
}

/** Whole number at least 0 in a text; undefined when it is none. */
export function wholeNumber(text: string | undefined): number | undefined {
  if (text === undefined || !/^\d{1,15}$/.test(text)) return undefined;
  return Number(text);
}

/** Parameter of the path. */
export function pathValue(request: FastifyRequest, name: string): string {
  const value = (request.params as Record<string, unknown>)[name];
  return typeof value === 'string' ? value : '';
}

/** Whether a text has the form of an id of ours. */
export const isId = (text: string): boolean => /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(text);
