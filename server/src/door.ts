import { StoreError } from '@pourline/store';
import fastify, {
  type FastifyError,
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
  LogController,
} from 'fastify';
import { drainRest } from './body.ts';
import { guard } from './guard.ts';
import { SECURITY_HEADERS } from './headers.ts';
import { type ProblemDetails, ProblemError, problemDetails, unreadable } from './problem.ts';
import { answerBrokenRequest, handleCorners, PROBLEM_HEADERS } from './raw-answers.ts';

/** What two doors do not share. */
export interface DoorOptions {
  logger?: boolean | object | undefined;
  /** Names, without port, by which it may be called besides loopback ones; asked at every request. */
  allowedHosts: () => ReadonlySet<string>;
  /** How long a request may take to arrive [ms]. */
  request_ms: number;
  /** Decides whether a request that was meant for this server may pass. @throws ProblemError */
  admit: (request: FastifyRequest) => Promise<void>;
}

/**
 * A server without routes that answers every failure as problem details and refuses what was not meant for it. Add routes, then {@link openDoor}.
 */
export function makeDoor(options: DoorOptions): FastifyInstance {
  const app = fastify({
    logger: options.logger ?? { level: 'error', stream: process.stderr },
    logController: new LogController({ disableRequestLogging: true }),
    requestTimeout: options.request_ms,
    exposeHeadRoutes: false,
    clientErrorHandler: answerBrokenRequest,
    frameworkErrors: (error, _request, reply) => void sendProblem(reply, problemFrom(error)),
    // Answered by the guard, in the same form as everything else.
    http: { requireHostHeader: false },
  });
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(SECURITY_HEADERS);
    if (request.url.startsWith('/api')) reply.header('cache-control', 'no-store');
    const refused = guard(request.method, request.headers, options.allowedHosts());
    if (refused) throw new ProblemError(refused);
    await options.admit(request);
  });
  app.addHook('onResponse', async (request) => drainRest(request.raw));
  app.setErrorHandler((error, request, reply) => answerError(error, request, reply));
  readBodiesInRoutes(app);
  return app;
}

/** Makes a door ready to listen, once it has its routes. */
export async function openDoor(app: FastifyInstance): Promise<FastifyInstance> {
  await app.ready();
  handleCorners(app.server, app.routing);
  return app;
}

/** Each route reads its body itself, with its own limit and sentences. */
function readBodiesInRoutes(app: FastifyInstance): void {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('*', (_request, _payload, done) => done(null, undefined));
}

function answerError(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const problem = problemFrom(error);
  if (problem.status >= 500) request.log.error(error);
  if (error instanceof ProblemError) reply.headers(error.headers);
  return sendProblem(reply, problem);
}

function sendProblem(reply: FastifyReply, problem: ProblemDetails): FastifyReply {
  return reply.code(problem.status).headers(PROBLEM_HEADERS).send(JSON.stringify(problem));
}

/** What a failure looks like from outside: never its stack, and its message only when it was written for people. */
function problemFrom(error: unknown): ProblemDetails {
  if (error instanceof ProblemError) return error.problem;
  if (error instanceof StoreError) {
    if (error.code === 'busy') return problemDetails(503, 'busy', 'Busy', error.message);
    if (error.code === 'disk_full') return problemDetails(507, 'disk-full', 'Disk full', error.message);
    return problemDetails(500, 'store', 'Store failed', error.message);
  }
  const status = (error as Partial<FastifyError> | null)?.statusCode ?? 500;
  if (status === 404)
    return problemDetails(404, 'not-found', 'Not found', 'There is nothing at this address.');
  if (status === 414)
    return problemDetails(
      414,
      'address-too-long',
      'Address too long',
      'The address of this request is too long.',
    );
  if (status >= 400 && status < 500) return { ...unreadable('This request cannot be understood.'), status };
  return problemDetails(
    500,
    'internal',
    'Internal failure',
    'Something went wrong here, not with what was sent. It was written to the log; nothing that was saved is lost.',
  );
}
