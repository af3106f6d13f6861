import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { address, type Context, queryValue, wholeNumber } from './context.ts';

/**
 * `/api/events`: server-sent events, one `revision` for each saved document, its `seq` as the event's id. A page
 * that comes back names the last id it saw (`Last-Event-ID`, or `?since=` when it opens the stream itself) and hears
 * of all that came after; without either it hears of what is saved from now on.
 */
export function eventRoutes(app: FastifyInstance, { store, live }: Context): void {
  const stream = async (request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply> => {
    const header = request.headers['last-event-id'];
    const asked = wholeNumber(typeof header === 'string' ? header : queryValue(request, 'since'));
    const last = await store.lastSeq();
    reply.hijack();
    reply.raw.writeHead(200, {
      ...(reply.getHeaders() as Record<string, string>),
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
    });
    reply.raw.write('retry: 1000\n\n');
    // A page from before a restored backup may have seen more than there is; it starts from what there is.
    live.add(reply.raw, Math.min(asked ?? last, last));
    return reply;
  };
  address(app, '/api/events', { GET: stream }, false);
}
