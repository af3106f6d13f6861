import { type Store, StoreError } from '@pourline/store';
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
import { LIMITS } from './limits.ts';
import { Live } from './live.ts';
import { servePages } from './pages.ts';
import { type ProblemDetails, ProblemError, problemDetails, unreadable } from './problem.ts';
import { answerBrokenRequest, handleCorners, PROBLEM_HEADERS } from './raw-answers.ts';
import { aboutRoutes } from './routes/about.ts';
import { archiveRoutes } from './routes/archives.ts';
import { attachmentRoutes } from './routes/attachments.ts';
import { documentRoutes } from './routes/documents.ts';
import { eventRoutes } from './routes/events.ts';
import { Uploads } from './uploads.ts';

export interface ServerOptions {
  store: Store;
  /** Folder of the built web app. */
  webRoot?: string | undefined;
  /** Names, without port, by which the server may be called besides localhost. */
  allowedHosts?: readonly string[] | undefined;
  /** Fastify's logger option; default writes errors only, to stderr. */
  logger?: boolean | object | undefined;
}

/** Makes the server without listening. The store stays the caller's: closing the server leaves it open. */
export async function createServer(options: ServerOptions): Promise<FastifyInstance> {
  const app = fastify({
    logger: options.logger ?? { level: 'error', stream: process.stderr },
    logController: new LogController({ disableRequestLogging: true }),
    requestTimeout: LIMITS.request_ms,
    exposeHeadRoutes: false,
    clientErrorHandler: answerBrokenRequest,
    frameworkErrors: (error, _request, reply) => void sendProblem(reply, problemFrom(error)),
    // Answered by the guard, in the same form as everything else.
    http: { requireHostHeader: false },
  });
  const allowed = new Set((options.allowedHosts ?? []).map((name) => name.toLowerCase()));
  const live = new Live(options.store, (error) => app.log.error(error));
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(SECURITY_HEADERS);
    if (request.url.startsWith('/api')) reply.header('cache-control', 'no-store');
    const refused = guard(request.method, request.headers, allowed);
    if (refused) throw new ProblemError(refused);
  });
  app.addHook('onResponse', async (request) => drainRest(request.raw));
  app.addHook('preClose', async () => live.close());
  app.setErrorHandler((error, request, reply) => answerError(error, request, reply));
  readBodiesInRoutes(app);

  const context = { store: options.store, live };
  const uploads = new Uploads();
  aboutRoutes(app, context);
  documentRoutes(app, context);
  eventRoutes(app, context);
  attachmentRoutes(app, context, uploads);
  archiveRoutes(app, context, uploads);
  await servePages(app, options.webRoot);
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
