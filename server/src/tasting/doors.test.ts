import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeTasting } from '@pourline/core/testing/sessions';
import { temporaryFolders } from '@pourline/store/testing';
import { describe, expect, it, vi } from 'vitest';
import { CARE, exchange, type Hall, halls, joining, oneHall, Phone, problemIn } from '../../test/tasting.ts';
import { NOT_FOR_TASTERS } from '../../test/whole-session.ts';
import { mayAsk } from './access.ts';
import { isPrivate, networkAddresses } from './addresses.ts';
import { TASTING_LIMITS } from './limits.ts';
import { Rate } from './rate.ts';

// Dozens of requests, each on disk before it is answered; generous, for a machine that is busy with other things.
vi.setConfig({ testTimeout: 120_000 });

const hall = oneHall();
const freshHall = halls();
const folder = temporaryFolders();

/** Every route of the server, as method and address with its parameters filled. */
function routesOf({ app }: Hall): [method: string, path: string][] {
  const id = '0190a5d2-7c3e-7b10-8f00-0000000000ff';
  const stack: string[] = [];
  const found: [string, string][] = [];
  for (const line of app.printRoutes({ commonPrefix: false }).split('\n')) {
    const match = /^((?:[│ ] {3})*)(?:├── |└── )(.*?)(?: \(([A-Z, ]+)\))?$/.exec(line);
    if (!match) continue;
    const depth = (match[1] ?? '').length / 4;
    stack.length = depth;
    stack[depth] = match[2] ?? '';
    const path = stack.join('').replaceAll(':id', id).replaceAll(':hash', 'ab'.repeat(32));
    for (const method of (match[3] ?? '').split(', ').filter((m) => m === 'GET' || m === 'POST'))
      found.push([method, path]);
  }
  return found.filter(([, path]) => path.startsWith('/api'));
}

/** A session, with the code for its table. */
async function openSession(made: Hall): Promise<{ id: string; code: string }> {
  const tasting = await made.save(makeTasting({ method: { test: 'triangle' } }));
  const view = await made.open(tasting.id);
  return { id: view.session_id, code: view.join!.code };
}

/** Pairs a device; gives its cookie. */
async function pair(made: Hall, role: 'host' | 'coach'): Promise<string> {
  const code = await made.app.inject({ method: 'POST', url: '/api/devices/codes', payload: { role } });
  const got = await exchange(made.port, {
    method: 'POST',
    path: '/api/devices/join',
    body: { code: code.json().code, name: `The ${role}` },
  });
  expect(got.status, got.body).toBe(201);
  return String(got.headers['set-cookie']);
}

describe('the shared door', () => {
  it('refuses every route that is not for tasters, without a token and with one, on both doors', async () => {
    const made = await hall();
    const routes = routesOf(made);
    expect(routes.length).toBeGreaterThan(25);
    const { code } = await openSession(made);
    const phone = new Phone(made.port);
    await phone.join(joining(code, 'Ines'));
    for (const [method, path] of routes.filter(([, p]) => !p.startsWith('/api/taster'))) {
      const body = method === 'POST' ? { body: {} } : {};
      const told = `${method} ${path}`;
      const token = phone.token!;
      expect((await exchange(made.port, { method, path, token, ...body })).status, told).toBe(403);
      const anonymous = await exchange(made.port, { method, path, ...body });
      // Pairing is open to anyone who has a code; without one it is refused as not valid.
      expect(anonymous.status, told).toBe(told === 'POST /api/devices/join' ? 422 : 403);
      const own = await made.app.inject({
        method: method as 'GET',
        url: path,
        headers: { authorization: `Bearer ${token}` },
      });
      expect(own.statusCode, `${told} on the own door`).toBe(403);
    }
  });

  it('tells nobody whether something is there', async () => {
    const made = await hall();
    const [real, none] = [
      await exchange(made.port, { path: '/api/documents' }),
      await exchange(made.port, { path: '/api/nothing-like-it' }),
    ];
    expect([real.status, real.body]).toEqual([none.status, none.body]);
  });

  it('lets a coach look and a host act, each no further, and nobody once it was taken back', async () => {
    const made = await hall();
    const { id } = await openSession(made);
    const cookies = { coach: await pair(made, 'coach'), host: await pair(made, 'host') };
    for (const cookie of Object.values(cookies))
      expect(cookie).toMatch(/; Path=\/; HttpOnly; SameSite=Strict; Max-Age=/);
    const ask = async (role: 'coach' | 'host', method: string, path: string, body?: object) =>
      exchange(made.port, {
        method,
        path,
        headers: { cookie: cookies[role].split(';')[0]! },
        ...(body ? { body } : {}),
      });
    for (const role of ['coach', 'host'] as const)
      for (const path of ['/api/documents', '/api/tastings', `/api/tastings/${id}`, '/api/about'])
        expect((await ask(role, 'GET', path)).status, `${role} ${path}`).toBe(200);
    expect((await ask('coach', 'GET', `/api/tastings/${id}/pour-sheet`)).status).toBe(403);
    expect((await ask('host', 'GET', `/api/tastings/${id}/pour-sheet`)).status).toBe(200);
    expect((await made.view(id)).sheet_seen.map((s) => s.by)).toEqual(['The host']);
    const act = { action_id: '0190a5d2-7c3e-7b10-8f00-00000000abcd', act: { do: 'new_code' } };
    expect((await ask('coach', 'POST', `/api/tastings/${id}/actions`, act)).status).toBe(403);
    expect((await ask('host', 'POST', `/api/tastings/${id}/actions`, act)).status).toBe(200);
    expect(JSON.parse((await ask('coach', 'GET', `/api/tastings/${id}`)).body).join).toBeNull();
    expect(JSON.parse((await ask('host', 'GET', `/api/tastings/${id}`)).body).join).not.toBeNull();
    for (const role of ['coach', 'host'] as const)
      for (const path of ['/api/sharing', '/api/devices', `/api/campaigns/${made.campaign_id}/archive`])
        expect((await ask(role, 'GET', path)).status, `${role} ${path}`).toBe(403);
    const { devices } = (await made.app.inject('/api/devices')).json<{ devices: { device_id: string }[] }>();
    for (const { device_id } of devices)
      await made.app.inject({ method: 'POST', url: `/api/devices/${device_id}/revoke`, payload: {} });
    expect((await ask('host', 'GET', '/api/documents')).status).toBe(403);
  });

  it('takes a pairing code once', async () => {
    const made = await hall();
    const { code } = (
      await made.app.inject({ method: 'POST', url: '/api/devices/codes', payload: { role: 'coach' } })
    ).json<{ code: string }>();
    const join = () =>
      exchange(made.port, { method: 'POST', path: '/api/devices/join', body: { code, name: 'A' } });
    expect((await join()).status).toBe(201);
    expect((await join()).status).toBe(403);
  });

  it('answers to its own addresses only, and takes nothing from other sites’ pages', async () => {
    const made = await hall();
    const { code } = await openSession(made);
    for (const host of ['attacker.example', `attacker.example:${made.port}`, '10.1.2.3', 'pourline.local'])
      for (const path of ['/', '/taste', '/api/taster/hello'])
        expect((await exchange(made.port, { path, headers: { host } })).status, host).toBe(421);
    const join = (headers: Record<string, string>) =>
      exchange(made.port, { method: 'POST', path: '/api/taster/join', body: joining(code, 'Kei'), headers });
    for (const headers of [
      { origin: 'http://attacker.example' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
      { origin: 'null' },
    ] as Record<string, string>[])
      expect((await join(headers)).status, JSON.stringify(headers)).toBe(403);
    const own = await join({ origin: `http://127.0.0.1:${made.port}`, 'sec-fetch-site': 'same-origin' });
    expect(own.status).toBe(201);
    expect(own.headers['access-control-allow-origin']).toBeUndefined();
    expect(own.headers['cross-origin-resource-policy']).toBe('same-origin');
    expect(own.headers['cache-control']).toBe('no-store');
  });

  it('takes in no large bodies', async () => {
    const made = await hall();
    const { code } = await openSession(made);
    const phone = new Phone(made.port);
    await phone.join(joining(code, 'Lena'));
    const flags = ['x'.repeat(TASTING_LIMITS.body_bytes)];
    const long = await phone.join(joining(code, 'Milo', { care: { ...CARE, flags } }));
    expect([long.status, problemIn(long).detail]).toEqual([413, expect.stringMatching(/at most 0\.1 MB/)]);
  });

  it('says who can reach it and how to stop, and cuts everybody off when it closes', async () => {
    const made = await freshHall();
    const told = (await made.app.inject('/api/sharing')).json();
    expect(told).toMatchObject({ shared: true, addresses: [`http://127.0.0.1:${made.port}/taste`] });
    expect(told.says.join(' ')).toMatch(
      /Every device in the same network can reach .* not encrypted.* To stop/,
    );
    const share = async (wish: boolean) =>
      (await made.app.inject({ method: 'POST', url: '/api/sharing', payload: { share: wish } })).json();
    expect(await share(false)).toEqual({
      shared: false,
      addresses: [],
      says: ['Only this machine can reach Pourline. Nothing is shared.'],
    });
    await expect(exchange(made.port, { path: '/api/taster/hello' })).rejects.toThrow(/ECONNREFUSED/);
    const again = await share(true);
    expect(again.shared).toBe(true);
    const port = Number(new URL(again.addresses[0]).port);
    expect((await exchange(port, { path: '/api/taster/hello' })).status).toBe(200);
  });
});

describe('pages of the shared door', () => {
  it('are the taster’s page and what it names, and the app for paired devices', async () => {
    const webRoot = await folder();
    await mkdir(join(webRoot, 'assets'));
    const write = (name: string, text: string) => writeFile(join(webRoot, name), text);
    await write('index.html', '<script src="./assets/app-AAAA1111.js"></script>');
    await write('taste.html', '<script src="./assets/taste-BBBB2222.js"></script>');
    await write('demo-campaign.json', '{"secret":1}');
    await write('assets/app-AAAA1111.js', 'import "./core-CCCC3333.js"; "secret of the host"');
    await write('assets/taste-BBBB2222.js', 'import "./core-CCCC3333.js";');
    await write('assets/core-CCCC3333.js', 'export {};');
    const made = await freshHall({ webRoot });
    const get = async (path: string, headers: Record<string, string> = {}) => {
      const got = await exchange(made.port, { path, headers });
      return [got.status, got.body] as const;
    };
    expect((await get('/'))[0]).toBe(302);
    expect(await get('/taste')).toEqual([200, expect.stringContaining('taste-BBBB2222')]);
    for (const name of ['taste-BBBB2222.js', 'core-CCCC3333.js'])
      expect((await get(`/assets/${name}`))[0]).toBe(200);
    for (const path of [
      '/index.html',
      '/assets/app-AAAA1111.js',
      '/demo-campaign.json',
      '/sw.js',
      '/panel',
      '/assets/../index.html',
      '/assets/%2e%2e/index.html',
      '/assets/taste-BBBB2222.js/../../index.html',
    ])
      expect((await get(path))[0], path).toBe(403);
    const cookie = (await pair(made, 'coach')).split(';')[0]!;
    expect(await get('/', { cookie })).toEqual([200, expect.stringContaining('app-AAAA1111')]);
    expect((await get('/assets/app-AAAA1111.js', { cookie }))[0]).toBe(200);
    expect((await get('/demo-campaign.json', { cookie }))[0]).toBe(403);
    const own = await made.app.inject('/taste');
    expect(own.body).toContain('taste-BBBB2222');
  });
});

describe('rules', () => {
  it('let a taster’s token through to a taster’s addresses alone', () => {
    for (const [method, path] of NOT_FOR_TASTERS)
      expect(mayAsk('taster', method, path.replace(/\?.*/, '')), path).toBe(false);
    expect(mayAsk('taster', 'POST', '/api/taster/answers')).toBe(true);
    expect(mayAsk('taster', 'GET', '/api/tasters')).toBe(false);
    for (const method of ['PUT', 'DELETE', 'PATCH', 'OPTIONS'])
      expect(mayAsk('host', method, '/api/documents'), method).toBe(false);
  });
  it('hold the rate of one address without touching another', () => {
    const rate = new Rate();
    let passed = 0;
    for (let i = 0; i < 2 * TASTING_LIMITS.burst; i++) if (rate.allows('10.0.0.7', 0)) passed++;
    expect(passed).toBe(TASTING_LIMITS.burst);
    expect(rate.allows('10.0.0.8', 0)).toBe(true);
    expect(rate.allows('10.0.0.7', 1_000)).toBe(true);
  });
  it('name the addresses of this machine, private networks first', () => {
    const of = (address: string, internal = false, family: 'IPv4' | 'IPv6' = 'IPv4') =>
      ({ address, internal, family, netmask: '', mac: '', cidr: null }) as never;
    expect(
      networkAddresses({
        lo: [of('127.0.0.1', true)],
        a: [of('203.0.113.9'), of('169.254.3.4')],
        b: [of('192.168.7.20'), of('fe80::1', false, 'IPv6')],
      }),
    ).toEqual(['192.168.7.20', '203.0.113.9']);
    expect(['10.0.0.1', '172.20.1.1', '172.32.1.1', '8.8.8.8'].map(isPrivate)).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});
