import { ALLERGENS, answerRequest, checkSchema, type Hello, joinRequest } from '@pourline/core';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { readJson } from '../body.ts';
import { ProblemError, problemDetails } from '../problem.ts';
import { address, type Context } from '../routes/context.ts';
import { TASTING_LIMITS } from './limits.ts';
import { notValid } from './refusals.ts';
import { bearerOf } from './who.ts';

/** Reads a small JSON body and checks it. */
export async function readChecked<T>(
  request: FastifyRequest,
  schema: z.ZodType<T>,
  what: string,
): Promise<T> {
  const checked = checkSchema(schema, await readJson(request, TASTING_LIMITS.body_bytes, what));
  if (!checked.ok) throw notValid(checked.problems);
  return checked.value;
}

/** Sends the head of an event stream. */
export function beginStream(reply: FastifyReply): void {
  reply.hijack();
  reply.raw.writeHead(200, {
    ...(reply.getHeaders() as Record<string, string>),
    'content-type': 'text/event-stream; charset=utf-8',
    'cache-control': 'no-store',
    'x-accel-buffering': 'no',
  });
  reply.raw.write('retry: 1000\n\n');
}

/** `/api/taster/…`: everything that a taster's device can ask for. */
export function tasterRoutes(app: FastifyInstance, { tastings, now }: Context): void {
  address(app, '/api/taster/hello', {
    GET: async (): Promise<Hello> => ({ open: await tastings.isOpen(), now: now(), allergens: ALLERGENS }),
  });

  address(app, '/api/taster/join', {
    POST: async (request, reply) => {
      const asked = await readChecked(request, joinRequest, 'What you told');
      return reply.code(201).send(await tastings.join(asked, request.ip));
    },
  });

  address(app, '/api/taster/sheet', {
    GET: async (request) => tastings.sheet(await tastings.seatOf(bearerOf(request))),
  });

  address(app, '/api/taster/answers', {
    POST: async (request, reply) => {
      const seat = await tastings.seatOf(bearerOf(request));
      const asked = await readChecked(request, answerRequest, 'The answer');
      const { receipt, outcome } = await tastings.answer(seat, asked);
      const status = outcome === 'already' ? 200 : outcome === 'late' ? 202 : 201;
      return reply.code(status).send(receipt);
    },
  });

  address(app, '/api/taster/leave', {
    POST: async (request) => tastings.leave(await tastings.seatOf(bearerOf(request))),
  });

  const stream = async (request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply> => {
    const seat = await tastings.seatOf(bearerOf(request));
    if (!tastings.streams.hasRoom(seat.session_id, seat.seat)) throw tooManyStreams();
    beginStream(reply);
    tastings.streams.addTaster(reply.raw, seat.session_id, seat.seat);
    return reply;
  };
  address(app, '/api/taster/events', { GET: stream }, false);
}

const tooManyStreams = (): ProblemError =>
  new ProblemError(
    problemDetails(
      429,
      'too-many-streams',
      'Too many streams',
      'This seat listens on several pages already. Close one of them.',
    ),
    { 'retry-after': '5' },
  );
