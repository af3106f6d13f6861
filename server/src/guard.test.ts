import { readFileSync } from 'node:fs';
import { makeCampaign, makeRevision } from '@pourline/store/testing';
import { describe, expect, it } from 'vitest';
import { listeningServers, servers } from '../test/harness.ts';
import { hostName, isLoopbackName } from './guard.ts';
import { SERVER_VERSION, StartError, startServer } from './index.ts';

const serve = servers();
const listen = listeningServers();

describe('host names', () => {
  it.each([
    ['localhost', 'localhost', true],
    ['LocalHost:4620', 'localhost', true],
    ['localhost.:80', 'localhost', true],
    ['127.0.0.1', '127.0.0.1', true],
    ['127.8.9.10:1', '127.8.9.10', true],
    ['[::1]:4620', '[::1]', true],
    ['127.0.0.1.example', '127.0.0.1.example', false],
    ['127.0.0.999', '127.0.0.999', false],
    ['localhost.example', 'localhost.example', false],
    ['0.0.0.0', '0.0.0.0', false],
  ])('reads %s', (header, name, loopback) => {
    expect(hostName(header)).toBe(name);
    expect(isLoopbackName(name)).toBe(loopback);
  });

  it.each([
    '',
    ':80',
    'a b',
    'localhost:123456',
    'localhost:x',
    'user@localhost',
    'localhost, localhost',
    '[::1',
  ])('finds none in "%s"', (header) => expect(hostName(header)).toBeUndefined());
});

describe('who may speak to the server', () => {
  it('refuses every request for another host, pages and data alike', async () => {
    const { app } = await serve();
    for (const url of ['/', '/api/documents', '/api/nope', '/assets/x.js'])
      for (const host of ['attacker.example', 'localhost.attacker.example', ':80'])
        expect((await app.inject({ url, headers: { host } })).statusCode, `${host} ${url}`).toBe(421);
    for (const host of ['localhost:4620', '127.0.0.1', '[::1]:99'])
      expect((await app.inject({ url: '/api/about', headers: { host } })).statusCode, host).toBe(200);
  });

  it('answers for a name that was allowed', async () => {
    const { app } = await serve({ allowedHosts: ['Coffee.Local'] });
    const ask = (host: string) => app.inject({ url: '/api/about', headers: { host } });
    expect((await ask('coffee.local:4620')).statusCode).toBe(200);
    expect((await ask('tea.local')).statusCode).toBe(421);
  });

  it.each([
    [{ origin: 'http://localhost:80' }, 201],
    [{ origin: 'http://localhost:80', 'sec-fetch-site': 'same-origin' }, 201],
    [{ 'sec-fetch-site': 'none' }, 201],
    [{ origin: 'http://attacker.example' }, 403],
    [{ origin: 'http://localhost:81' }, 403],
    [{ origin: 'null' }, 403],
    [{ origin: 'file://' }, 403],
    [{ origin: 'http://localhost:80.attacker.example' }, 403],
    [{ 'sec-fetch-site': 'cross-site' }, 403],
    [{ 'sec-fetch-site': 'same-site' }, 403],
  ])('lets a page with %j save: %i', async (headers, status) => {
    const { app, store } = await serve();
    const payload = { ...makeRevision(makeCampaign()) };
    const answer = await app.inject({
      method: 'POST',
      url: '/api/revisions',
      headers: { host: 'localhost:80', ...headers },
      payload,
    });
    expect(answer.statusCode).toBe(status);
    expect(await store.lastSeq()).toBe(status === 201 ? 1 : 0);
    const reading = await app.inject({ url: '/api/about', headers: { host: 'localhost:80', ...headers } });
    expect(reading.statusCode).toBe(200);
  });

  it('sends the strict headers with every answer, refusals included', async () => {
    const { app } = await serve();
    for (const url of ['/', '/api/about', '/api/nope', '/%zz', '/x.js']) {
      const { headers } = await app.inject(url);
      expect(headers['content-security-policy'], url).toContain("default-src 'self'; script-src 'self'");
      expect(headers['content-security-policy'], url).toContain("frame-ancestors 'none'");
      expect(headers['content-security-policy'], url).not.toMatch(/unsafe|https?:|\*/);
      expect(headers, url).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
      });
      expect(headers['access-control-allow-origin'], url).toBeUndefined();
    }
  });
});

describe('starting', () => {
  it('listens on loopback only', async () => {
    const running = await listen();
    expect(running.app.server.address()).toMatchObject({ address: '127.0.0.1' });
    expect(running.url).toBe(`http://localhost:${running.port}/`);
    expect((await fetch(`http://127.0.0.1:${running.port}/api/about`)).status).toBe(200);
  });

  it('says in a sentence why it cannot', async () => {
    const running = await listen();
    const file = `${running.store.location}.2`;
    const start = (more: object) => startServer({ file, logger: false, ...more });
    await expect(start({ port: running.port })).rejects.toThrow(
      new StartError(
        `Port ${running.port} is taken by another program. Stop it, or start with another port.`,
      ),
    );
    await expect(start({ port: 70_000 })).rejects.toThrow(/^Port 70000 is not one/);
    await expect(start({ host: '0.0.0.0', port: 0 })).rejects.toThrow(/there is no login/);
    await expect(start({ host: '::', port: 0 })).rejects.toThrow(StartError);
  });

  it('knows its own version', () => {
    const said = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8'));
    expect(said.version).toBe(SERVER_VERSION);
  });
});
