import { connect } from 'node:net';
import fc from 'fast-check';
import type { InjectOptions } from 'fastify';
import { describe, expect, it } from 'vitest';
import { expectDecent, listeningServers, servers } from '../test/harness.ts';
import { anyRequest, type HostileRequest, nearlyRight } from '../test/hostile.ts';

const serve = servers();
const listen = listeningServers();

const SEED = 20_310_401;

describe('whatever is sent, the server', () => {
  it.each([
    ['any request', anyRequest, 1_300, [200, 400, 403, 404, 405, 415, 421]],
    ['a nearly right request', nearlyRight, 1_300, [200, 201, 400, 409, 422]],
  ])(
    'answers %s decently and keeps its data whole',
    { timeout: 120_000 },
    async (_, arbitrary, numRuns, expected) => {
      const { app, store } = await serve();
      const seen = new Map<number, number>();
      await fc.assert(
        fc.asyncProperty(arbitrary, async (request) => {
          const answer = await app.inject(injected(request));
          seen.set(answer.statusCode, (seen.get(answer.statusCode) ?? 0) + 1);
          const type = String(answer.headers['content-type'] ?? '');
          if (request.method === 'HEAD') expect(answer.statusCode).toBeLessThan(500);
          else expectDecent({ status: answer.statusCode, type, body: answer.body }, describeRequest(request));
        }),
        { numRuns, seed: SEED },
      );
      console.log(
        `${numRuns} requests, answers: ${[...seen]
          .sort()
          .map(([status, n]) => `${n} × ${status}`)
          .join(', ')}`,
      );
      expect([...seen.keys()]).toEqual(expect.arrayContaining(expected));
      expect((await app.inject('/api/health')).statusCode).toBe(200);
      expect(await store.integrityCheck()).toEqual([]);
    },
  );

  it('answers raw bytes on the wire decently', { timeout: 120_000 }, async () => {
    const { port, store } = await listen();
    let answered = 0;
    await fc.assert(
      fc.asyncProperty(anyRequest, fc.array(damage, { maxLength: 3 }), async (request, damages) => {
        const wire = damages.reduce((bytes, { at, by }) => damaged(bytes, at, by), onTheWire(request));
        for (const answer of await answersTo(port, wire)) {
          answered++;
          // An answer to HEAD has no body to look at.
          if (wire.toString('latin1', 0, 4) === 'HEAD') expect(answer.status).toBeLessThan(500);
          else expectDecent(answer, wire.toString('latin1').slice(0, 400));
        }
      }),
      { numRuns: 400, seed: SEED },
    );
    console.log(`400 damaged requests on a socket, ${answered} answers`);
    expect(answered).toBeGreaterThan(300);
    expect((await fetch(`http://127.0.0.1:${port}/api/health`)).status).toBe(200);
    expect(await store.integrityCheck()).toEqual([]);
  });
});

const damage = fc.record({ at: fc.nat(3_000), by: fc.uint8Array({ maxLength: 6 }) });

/** Bytes overwritten at a place near the head. */
function damaged(bytes: Buffer, at: number, by: Uint8Array): Buffer {
  const copy = Buffer.from(bytes);
  copy.set(by.subarray(0, Math.max(0, copy.length - (at % copy.length))), at % copy.length);
  return copy;
}

function injected({ method, url, headers, body }: HostileRequest): InjectOptions {
  const options: InjectOptions = { method: method as NonNullable<InjectOptions['method']>, url, headers };
  return body === undefined ? options : { ...options, payload: body };
}

const describeRequest = ({ method, url, headers, body }: HostileRequest): string =>
  `${method} ${url.slice(0, 200)} ${JSON.stringify(headers)} ${body?.toString().slice(0, 600)}`;

function onTheWire({ method, url, headers, body }: HostileRequest): Buffer {
  const all = { host: 'localhost', ...headers, 'content-length': String(body?.length ?? 0) };
  const lines = Object.entries(all).map(([name, value]) => `${name}: ${value}\r\n`);
  return Buffer.concat([
    Buffer.from(`${method} ${url} HTTP/1.1\r\n${lines.join('')}\r\n`),
    body ?? Buffer.alloc(0),
  ]);
}

/** Sends bytes, closes the sending half, and gathers what comes back. Only whole answers with a length count. */
function answersTo(port: number, wire: Buffer): Promise<{ status: number; type: string; body: string }[]> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    const chunks: Buffer[] = [];
    socket.setTimeout(5_000, () => socket.destroy());
    socket.on('error', () => {});
    socket.on('data', (chunk) => chunks.push(chunk));
    socket.on('close', () => resolve(answersIn(Buffer.concat(chunks).toString('utf8'))));
    socket.end(wire);
  });
}

function answersIn(text: string): { status: number; type: string; body: string }[] {
  return text
    .split(/(?=HTTP\/1\.1 \d{3} )/)
    .filter((part) => part.startsWith('HTTP/1.1 ') && !part.startsWith('HTTP/1.1 1'))
    .map((part) => {
      const [head = '', ...rest] = part.split('\r\n\r\n');
      const type = /^content-type: *([^\r]*)/im.exec(head)?.[1] ?? '';
      return { status: Number(part.slice(9, 12)), type, body: rest.join('\r\n\r\n') };
    });
}
