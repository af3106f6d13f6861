import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeCampaign, makeRevision, temporaryFolders } from '@pourline/store/testing';
import { describe, expect, it } from 'vitest';
import { save, servers } from '../test/harness.ts';
import { seedIfEmpty } from './index.ts';

const serve = servers();
const folder = temporaryFolders();

/** A built web app in small. */
async function built(): Promise<string> {
  const root = await folder();
  await mkdir(join(root, 'assets'));
  await writeFile(join(root, 'index.html'), '<!doctype html><title>app</title>');
  await writeFile(join(root, 'sw.js'), 'self.x = 1;');
  await writeFile(join(root, '.secret'), 'hidden');
  await writeFile(join(root, 'assets', 'main-abc123.js'), 'export {};');
  await writeFile(join(root, '..', 'outside.txt'), 'outside');
  return root;
}

describe('the pages', () => {
  it('are the app, for each of its addresses, asked for again each time', async () => {
    const { app } = await serve({ webRoot: await built() });
    for (const url of ['/', '/index.html', '/brew', '/brew/019b8000', '/?since=1']) {
      const page = await app.inject(url);
      expect([page.statusCode, page.headers['cache-control']], url).toEqual([200, 'no-cache']);
      expect(page.headers['content-type'], url).toMatch(/^text\/html/);
      expect(page.body, url).toContain('<title>app</title>');
    }
  });

  it('keep hashed files for good, and the service worker not', async () => {
    const { app } = await serve({ webRoot: await built() });
    const asset = await app.inject('/assets/main-abc123.js');
    expect(asset.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect(asset.headers['content-type']).toMatch(/^(text|application)\/javascript/);
    expect((await app.inject('/sw.js')).headers['cache-control']).toBe('no-cache');
    const { etag } = asset.headers;
    const again = await app.inject({
      url: '/assets/main-abc123.js',
      headers: { 'if-none-match': String(etag) },
    });
    expect(again.statusCode).toBe(304);
  });

  it('never stand in for a file or for data that is not there', async () => {
    const { app } = await serve({ webRoot: await built() });
    for (const url of ['/assets/old-999.js', '/favicon.ico', '/api/nope', '/api', '/.secret', '/assets/']) {
      const answer = await app.inject(url);
      expect([answer.statusCode, answer.headers['content-type']], url).toEqual([
        404,
        'application/problem+json; charset=utf-8',
      ]);
    }
    expect((await app.inject({ method: 'POST', url: '/brew' })).statusCode).toBe(404);
  });

  it('never lead out of their folder', async () => {
    const { app } = await serve({ webRoot: await built() });
    for (const url of [
      '/../outside.txt',
      '/..%2foutside.txt',
      '/assets/..%2f..%2foutside.txt',
      '/%2e%2e/outside.txt',
      '/..\\outside.txt',
      '/%00',
    ])
      expect((await app.inject(url)).body, url).not.toContain('outside"');
    for (const url of ['/../outside.txt', '/..%2foutside.txt', '/assets/..%2f..%2foutside.txt'])
      expect((await app.inject(url)).statusCode, url).toBeGreaterThanOrEqual(400);
  });

  it('say how to build them when they are not built', async () => {
    const { app } = await serve({ webRoot: join(await folder(), 'nothing-here') });
    const page = await app.inject('/');
    expect(page.body).toContain('npm run build');
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    expect((await app.inject('/x.js')).statusCode).toBe(404);
  });
});

describe('the demo campaign', () => {
  const campaign = makeCampaign('Demo');
  const archive = { format: 'pourline-archive', version: 1, documents: [{ ...campaign, demo: true }] };

  it('is taken in once, from a file or as it is, and never again after it was archived', async () => {
    const { app, store } = await serve();
    const path = join(await folder(), 'demo.json');
    await writeFile(path, JSON.stringify(archive));
    expect(await seedIfEmpty(store, path)).toEqual({ outcome: 'seeded', documents: 1 });
    expect(await seedIfEmpty(store, archive)).toEqual({ outcome: 'not_empty' });
    const stands = (await store.latest()).revisions[0];
    await save(app, makeRevision({ ...campaign, archived: true }, stands?.revision_id ?? null));
    expect(await seedIfEmpty(store, path)).toEqual({ outcome: 'not_empty' });
  });

  it('is left out with a sentence when it cannot be read', async () => {
    const { store } = await serve();
    const missing = await seedIfEmpty(store, join(await folder(), 'none.json'));
    expect(missing).toMatchObject({ outcome: 'unreadable', sentence: expect.stringMatching(/none\.json/) });
    expect(await seedIfEmpty(store, { ...archive, documents: [{ kind: 'campaign' }] })).toMatchObject({
      outcome: 'invalid',
    });
    expect(await store.lastSeq()).toBe(0);
  });
});
