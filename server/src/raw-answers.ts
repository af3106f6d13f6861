import { type IncomingMessage, type Server, type ServerResponse, STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import { SECURITY_HEADERS } from './headers.ts';
import { LIMITS } from './limits.ts';
import { type ProblemDetails, problemDetails } from './problem.ts';

const LARGEST_BODY = Math.max(LIMITS.revision_bytes, LIMITS.attachment_bytes, LIMITS.archive_bytes);

/** Headers of every answer that is a problem. */
export const PROBLEM_HEADERS: Readonly<Record<string, string>> = {
  ...SECURITY_HEADERS,
  'content-type': 'application/problem+json; charset=utf-8',
  'cache-control': 'no-store',
};

/** Answers what never becomes a proper request: broken HTTP, a head that is too long or too slow. */
export function answerBrokenRequest(error: Error & { code?: string }, socket: Duplex): void {
  const pending = (socket as Duplex & { _httpMessage?: ServerResponse | null })._httpMessage;
  if (error.code === 'ECONNRESET' || !socket.writable || pending?.headersSent) socket.destroy();
  else writeProblem(socket, problemOf(error.code ?? ''));
}

function problemOf(code: string): ProblemDetails {
  if (code === 'HPE_HEADER_OVERFLOW')
    return problemDetails(
      431,
      'head-too-long',
      'Head too long',
      'The head of this request is too long; 16 KB is the most.',
    );
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT')
    return problemDetails(
      408,
      'too-slow',
      'Too slow',
      'This request took too long to arrive. Send it again.',
    );
  return problemDetails(400, 'not-http', 'Not HTTP', 'This is not a valid HTTP request.');
}

function writeProblem(socket: Duplex, problem: ProblemDetails): void {
  const body = JSON.stringify(problem);
  const headers = {
    ...PROBLEM_HEADERS,
    'content-length': String(Buffer.byteLength(body)),
    connection: 'close',
  };
  const head = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  socket.end(`HTTP/1.1 ${problem.status} ${STATUS_CODES[problem.status]}\r\n${head.join('')}\r\n${body}`);
}

/**
 * Handles the corners of HTTP that never reach a route: `Expect` (a body that is too long is refused before it is
 * sent), unknown expectations, and CONNECT.
 */
export function handleCorners(
  server: Server,
  routing: (req: IncomingMessage, res: ServerResponse) => void,
): void {
  server.on('checkContinue', (request: IncomingMessage, response: ServerResponse) => {
    if (Number(request.headers['content-length'] ?? 0) > LARGEST_BODY) response.shouldKeepAlive = false;
    else response.writeContinue();
    routing(request, response);
  });
  server.on('checkExpectation', (_request: IncomingMessage, response: ServerResponse) => {
    const detail = 'The only expectation that can be met is 100-continue.';
    const body = JSON.stringify(problemDetails(417, 'expectation', 'Expectation failed', detail));
    response.writeHead(417, { ...PROBLEM_HEADERS, 'content-length': Buffer.byteLength(body) });
    response.end(body);
  });
  server.on('connect', (_request: IncomingMessage, socket: Duplex) => {
    socket.on('error', () => socket.destroy());
    writeProblem(socket, problemDetails(405, 'wrong-method', 'Wrong method', 'This server is not a proxy.'));
  });
}
