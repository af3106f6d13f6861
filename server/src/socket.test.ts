import { connect, type Socket } from 'node:net';
import { makeCampaign, makeRevision } from '@pourline/store/testing';
import { describe, expect, it } from 'vitest';
import { expectDecent, listeningServers } from '../test/harness.ts';

const listen = listeningServers();

interface Answer {
  status: number;
  type: string;
  body: string;
}

/** Sends raw text and reads until the server closes or one whole answer is there. */
function exchange(port: number, send: (socket: Socket) => void): Promise<Answer | undefined> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    let text = '';
    const done = (): void => {
      socket.destroy();
      resolve(answerIn(text));
    };
    socket.setTimeout(10_000, done);
    socket.on('error', done);
    socket.on('close', done);
    socket.on('data', (chunk) => {
      text += chunk.toString('latin1');
      const answer = answerIn(text);
      if (answer) done();
    });
    send(socket);
  });
}

/** The last whole answer in what came; 100 Continue is passed over. */
function answerIn(text: string): Answer | undefined {
  const rest = text.replace(/^(HTTP\/1\.1 1\d\d [^\r]*\r\n\r\n)+/, '');
  const end = rest.indexOf('\r\n\r\n');
  if (end < 0) return undefined;
  const head = rest.slice(0, end);
  const field = (name: string) => new RegExp(`^${name}: *([^\\r]*)`, 'im').exec(head)?.[1] ?? '';
  const body = rest.slice(end + 4);
  if (body.length < Number(field('content-length') || '0')) return undefined;
  return { status: Number(rest.slice(9, 12)), type: field('content-type'), body };
}

const say = (text: string) => (socket: Socket) => void socket.write(text, 'latin1');

const MB = 1024 * 1024;

/** Sends zeros for as long as the socket takes them, up to a size; says how much went out. */
function sendZeros(socket: Socket, bytes: number, frame: (chunk: Buffer) => Buffer = (chunk) => chunk) {
  const sent = { bytes: 0 };
  const chunk = Buffer.alloc(64 * 1024);
  const more = (): void => {
    while (sent.bytes < bytes && socket.writable) {
      sent.bytes += chunk.length;
      if (!socket.write(frame(chunk))) break;
    }
  };
  socket.on('drain', more);
  more();
  return sent;
}

describe('uploads that are too large', () => {
  it('are refused at their announcement, before a byte of 200 MB is sent', async () => {
    const { port } = await listen();
    const began = performance.now();
    const answer = await exchange(
      port,
      say(`POST /api/attachments HTTP/1.1\r\nhost: localhost\r\ncontent-length: ${200 * MB}\r\n\r\n`),
    );
    expect(performance.now() - began).toBeLessThan(1_000);
    expect(answer?.status).toBe(413);
    expect(answer?.body).toContain('The file has 200 MB; at most 32 MB can be taken in.');
  });

  it('are refused promptly while 200 MB pour in, with memory bounded, and the server goes on', async () => {
    const { port, store } = await listen();
    const before = process.memoryUsage().rss;
    let peak = before;
    const meter = setInterval(() => {
      peak = Math.max(peak, process.memoryUsage().rss);
    }, 5);
    const plain = await exchange(port, (socket) => {
      socket.write(
        `POST /api/attachments HTTP/1.1\r\nhost: localhost\r\ncontent-length: ${200 * MB}\r\n\r\n`,
      );
      sendZeros(socket, 200 * MB);
    });
    expect(plain?.status).toBe(413);
    let sent = { bytes: 0 };
    const chunked = await exchange(port, (socket) => {
      socket.write('POST /api/attachments HTTP/1.1\r\nhost: localhost\r\ntransfer-encoding: chunked\r\n\r\n');
      const frame = (chunk: Buffer) =>
        Buffer.concat([Buffer.from(`${chunk.length.toString(16)}\r\n`), chunk, Buffer.from('\r\n')]);
      sent = sendZeros(socket, 200 * MB, frame);
    });
    clearInterval(meter);
    expect(chunked?.status).toBe(413);
    expect(chunked?.body).toContain('The file is too large; at most 32 MB can be taken in.');
    expect(sent.bytes).toBeLessThan(60 * MB);
    expect((peak - before) / MB).toBeLessThan(120);
    expect((await fetch(`http://127.0.0.1:${port}/api/health`)).status).toBe(200);
    expect((await store.latest()).revisions).toEqual([]);
  });

  it('are cut off when their sender goes on regardless', async () => {
    const { port } = await listen();
    const socket = connect(port, '127.0.0.1');
    const closed = new Promise<number>((resolve) => {
      const began = performance.now();
      socket.on('error', () => {});
      socket.on('close', () => resolve(performance.now() - began));
    });
    socket.write(`POST /api/attachments HTTP/1.1\r\nhost: localhost\r\ncontent-length: ${900 * MB}\r\n\r\n`);
    const drip = setInterval(() => socket.write(Buffer.alloc(1_000)), 100);
    expect(await closed).toBeLessThan(9_000);
    clearInterval(drip);
  });

  it('do not have to be sent by a client that asks first', async () => {
    const { port } = await listen();
    const ask = (bytes: number) =>
      `POST /api/attachments HTTP/1.1\r\nhost: localhost\r\nexpect: 100-continue\r\ncontent-length: ${bytes}\r\n\r\n`;
    expect((await exchange(port, say(ask(200 * MB))))?.status).toBe(413);
    expect((await exchange(port, say(`${ask(3)}abc`)))?.status).toBe(201);
  });

  it('are refused for revisions and archives too, each with its own limit', async () => {
    const { port } = await listen();
    const ask = (path: string) =>
      exchange(
        port,
        say(
          `POST ${path} HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: ${70 * MB}\r\n\r\n`,
        ),
      );
    expect((await ask('/api/revisions'))?.body).toContain('at most 8 MB');
    expect((await ask('/api/archives'))?.body).toContain('at most 64 MB');
  });

  it('take in a file of exactly the limit', { timeout: 60_000 }, async () => {
    const { port } = await listen();
    const file = new Uint8Array(32 * MB);
    const url = `http://127.0.0.1:${port}/api/attachments`;
    const taken = await fetch(url, { method: 'POST', body: file });
    expect(taken.status).toBe(201);
    const { hash, size } = (await taken.json()) as { hash: string; size: number };
    expect(size).toBe(32 * MB);
    const back = await fetch(`${url}/${hash}`);
    expect((await back.arrayBuffer()).byteLength).toBe(32 * MB);
    expect((await fetch(url, { method: 'POST', body: new Uint8Array(32 * MB + 1) })).status).toBe(413);
  });
});

describe('what is hardly HTTP', () => {
  it.each([
    ['no request at all', 'hello there\r\n\r\n', 400],
    ['no host', 'GET /api/about HTTP/1.1\r\n\r\n', 421],
    ['two hosts', 'GET /api/about HTTP/1.1\r\nhost: localhost\r\nhost: attacker.example\r\n\r\n', undefined],
    ['an old version', 'GET /api/about HTTP/1.0\r\n\r\n', 421],
    [
      'a whole address',
      'GET http://attacker.example/api/about HTTP/1.1\r\nhost: localhost\r\n\r\n',
      undefined,
    ],
    ['a head without end', `GET / HTTP/1.1\r\nhost: localhost\r\nx: ${'a'.repeat(20_000)}\r\n\r\n`, 431],
    ['a proxy request', 'CONNECT attacker.example:443 HTTP/1.1\r\nhost: attacker.example\r\n\r\n', 405],
    ['a strange expectation', 'GET /api/about HTTP/1.1\r\nhost: localhost\r\nexpect: tea\r\n\r\n', 417],
    ['a strange method', 'BREW /pot HTTP/1.1\r\nhost: localhost\r\n\r\n', 400],
    ['a known but unused method', 'PROPFIND /api/documents HTTP/1.1\r\nhost: localhost\r\n\r\n', 404],
    [
      'a length that is none',
      'POST /api/revisions HTTP/1.1\r\nhost: localhost\r\ncontent-length: ten\r\n\r\n',
      400,
    ],
    [
      'two framings',
      'POST /api/revisions HTTP/1.1\r\nhost: localhost\r\ncontent-length: 3\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n',
      400,
    ],
    ['a broken escape', 'GET /%E0%A4%A HTTP/1.1\r\nhost: localhost\r\n\r\n', 400],
    [
      'an address of 10 000 characters',
      `GET /api/documents/${'a'.repeat(10_000)}/revisions HTTP/1.1\r\nhost: localhost\r\n\r\n`,
      414,
    ],
    [
      'an upgrade',
      'GET /api/about HTTP/1.1\r\nhost: localhost\r\nconnection: upgrade\r\nupgrade: websocket\r\n\r\n',
      200,
    ],
  ])('%s gets a readable answer', async (what, text, status) => {
    const { port } = await listen();
    const answer = await exchange(port, say(text));
    if (!answer) throw new Error(`no answer to ${what}`);
    expectDecent(answer, what);
    if (status !== undefined) expect(answer.status).toBe(status);
  });

  it('a client that hangs up in the middle changes nothing', async () => {
    const { port, store } = await listen();
    const body = JSON.stringify(makeRevision(makeCampaign()));
    for (const part of [body.slice(0, 40), body.slice(0, -1)]) {
      const socket = connect(port, '127.0.0.1');
      const head = `POST /api/revisions HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: ${body.length}\r\n\r\n`;
      await new Promise<void>((resolve) => socket.write(head + part, () => resolve()));
      socket.destroy();
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    expect(await store.lastSeq()).toBe(0);
    expect((await fetch(`http://127.0.0.1:${port}/api/health`)).status).toBe(200);
  });

  it('a client that never finishes does not keep the server from stopping', async () => {
    const running = await listen();
    const socket = connect(running.port, '127.0.0.1');
    socket.on('error', () => {});
    const head = 'POST /api/attachments HTTP/1.1\r\nhost: localhost\r\ncontent-length: 1000\r\n\r\nabc';
    await new Promise<void>((resolve) => socket.write(head, () => resolve()));
    await new Promise((resolve) => setTimeout(resolve, 50));
    const began = performance.now();
    await running.close();
    expect(performance.now() - began).toBeLessThan(8_000);
  });
});
