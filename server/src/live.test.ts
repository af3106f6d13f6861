import { openStore } from '@pourline/store';
import { makeCampaign, makeRevision, savedIn } from '@pourline/store/testing';
import { describe, expect, it } from 'vitest';
import { listeningServers, save } from '../test/harness.ts';
import { openStream } from '../test/stream.ts';

const listen = listeningServers();

describe('the event stream', () => {
  it('tells every open page what any page saves, in order', async () => {
    const { app, port } = await listen();
    const pages = await Promise.all([openStream(port, '/api/events'), openStream(port, '/api/events')]);
    expect(pages[0]?.headers).toMatchObject({
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'content-security-policy': expect.stringContaining("default-src 'self'"),
    });
    const campaign = makeCampaign();
    const one = await save(app, makeRevision(campaign));
    const two = await save(app, makeRevision({ ...campaign, name: 'Renamed' }, one.revision_id));
    for (const page of pages) {
      const events = await page.wait(2);
      expect(events.map((e) => [e.id, e.event])).toEqual([
        [String(one.seq), 'revision'],
        [String(two.seq), 'revision'],
      ]);
      expect(events.map((e) => e.data)).toEqual([one, two]);
      page.stop();
    }
  });

  it('resumes after the last id a page saw, with nothing missing and nothing twice', async () => {
    const { app, port } = await listen();
    const first = await save(app, makeRevision(makeCampaign('First')));
    const page = await openStream(port, '/api/events?since=0');
    await page.wait(1);
    page.stop();
    await page.ended;
    const missed = [];
    for (const name of ['Second', 'Third']) missed.push(await save(app, makeRevision(makeCampaign(name))));
    const back = await openStream(port, '/api/events?since=0', { 'last-event-id': String(first.seq) });
    await back.wait(2);
    const last = await save(app, makeRevision(makeCampaign('Fourth')));
    const events = await back.wait(3);
    expect(events.map((e) => e.data)).toEqual([...missed, last]);
    back.stop();
  });

  it('starts from now when a page names no id, or one that never was', async () => {
    const { app, port } = await listen();
    await save(app, makeRevision(makeCampaign('Before')));
    const pages = [
      await openStream(port, '/api/events'),
      await openStream(port, '/api/events', { 'last-event-id': '999' }),
      await openStream(port, '/api/events?since=nonsense'),
    ];
    const after = await save(app, makeRevision(makeCampaign('After')));
    for (const page of pages) {
      expect((await page.wait(1)).map((e) => e.data)).toEqual([after]);
      page.stop();
    }
  });

  it('tells of what another process saves', async () => {
    const { port, store } = await listen();
    const page = await openStream(port, '/api/events');
    const other = await openStore({ file: store.location });
    const revision = savedIn(await other.appendRevision(makeRevision(makeCampaign())));
    expect((await page.wait(1)).map((e) => e.data)).toEqual([revision]);
    await other.close();
    page.stop();
  });

  it('keeps up with a burst: many writers, every page hears the last state of each document', async () => {
    const { app, port } = await listen();
    const pages = await Promise.all(Array.from({ length: 5 }, () => openStream(port, '/api/events')));
    const saved = await Promise.all(
      Array.from({ length: 60 }, (_, i) => save(app, makeRevision(makeCampaign(`Campaign ${i}`)))),
    );
    saved.sort((a, b) => a.seq - b.seq);
    for (const page of pages) {
      expect((await page.wait(60)).map((e) => e.id)).toEqual(saved.map((r) => String(r.seq)));
      page.stop();
    }
  });

  it('ends every stream when the server stops, and stops promptly', async () => {
    const running = await listen();
    const page = await openStream(running.port, '/api/events');
    const began = performance.now();
    await Promise.all([running.app.close(), page.ended]);
    expect(performance.now() - began).toBeLessThan(3_000);
  });
});
