import { checkArchive } from '@pourline/core';
import {
  makeCampaign,
  makePlan,
  makeRevision,
  makeTrial,
  makeVenue,
  makeWater,
} from '@pourline/store/testing';
import { describe, expect, it } from 'vitest';
import { post, save, servers } from '../test/harness.ts';

const serve = servers();

describe('saving over HTTP', () => {
  it('answers 201 when saved, 200 to a retry, and lists the document', async () => {
    const { app } = await serve();
    const campaign = makeCampaign();
    const input = makeRevision(campaign);
    const revision = await save(app, input);
    const again = await post(app, input);
    expect([again.statusCode, again.json()]).toEqual([200, { revision }]);
    const list = await app.inject('/api/documents?since=0');
    expect(list.json()).toMatchObject({ seq: revision.seq, revisions: [revision] });
    expect((await app.inject(`/api/documents?since=${revision.seq}`)).json()).toMatchObject({
      revisions: [],
    });
  });

  it('answers a clash with 409 and both versions', async () => {
    const { app } = await serve();
    const campaign = makeCampaign();
    const one = await save(app, makeRevision(campaign));
    const two = await save(app, makeRevision({ ...campaign, name: 'Theirs' }, one.revision_id));
    const mine = makeRevision({ ...campaign, name: 'Mine' }, one.revision_id);
    const answer = await post(app, mine);
    expect(answer.statusCode).toBe(409);
    expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(answer.json()).toMatchObject({
      type: 'urn:pourline:problem:clash',
      status: 409,
      current: two,
      yours: mine,
    });
    const history = await app.inject(`/api/documents/${campaign.id}/revisions`);
    expect(history.json()).toEqual({ revisions: [one, two] });
  });

  it('answers 422 with every problem at its field', async () => {
    const { app } = await serve();
    const campaign = makeCampaign();
    const plan = makePlan(campaign.id, campaign.id, campaign.id);
    plan.dose_g = 0;
    plan.pours[1] = { ...plan.pours[1]!, start_s: -30 };
    plan.grind = [{ ...plan.grind[0]!, share: 0.8 }];
    const answer = await post(app, makeRevision(plan));
    expect(answer.statusCode).toBe(422);
    const { problems, detail } = answer.json<{ problems: { path: unknown[] }[]; detail: string }>();
    expect(problems.map((p) => p.path)).toEqual(
      expect.arrayContaining([['dose_g'], ['pours', 1, 'start_s']]),
    );
    expect(detail).toMatch(/^Dose is 0 g; it must be at least 1 g\. There (is|are) \d+ more problems?\.$/);
  });

  it('answers 10 000 pours with one clear sentence and a bounded list', async () => {
    const { app } = await serve();
    const campaign = makeCampaign();
    const plan = makePlan(campaign.id, campaign.id, campaign.id);
    const pours = Array.from({ length: 10_000 }, (_, i) => ({ ...plan.pours[0]!, id: `p${i}`, start_s: i }));
    const answer = await post(app, makeRevision({ ...plan, pours }));
    expect(answer.statusCode).toBe(422);
    expect(answer.body.length).toBeLessThan(200_000);
    const sentences = answer.json<{ problems: { sentence: string }[] }>().problems.map((p) => p.sentence);
    expect(sentences[0]).toBe('Pours has 10000 entries; it may have at most 40.');
  });

  it('answers a list of millions quickly, before it could fill the memory', async () => {
    const { app } = await serve();
    const { body, ...around } = makeRevision(makeCampaign());
    const head = JSON.stringify({ ...around, body: { ...(body as object), kind: 'plan', pours: '@' } });
    const payload = head.replace('"@"', `[${'0,'.repeat(3_900_000)}0]`);
    const began = performance.now();
    const answer = await app.inject({
      method: 'POST',
      url: '/api/revisions',
      headers: { 'content-type': 'application/json' },
      payload,
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({ problems_total: 1, problems: [{ path: ['body', 'pours'] }] });
    expect(performance.now() - began).toBeLessThan(10_000);
  });

  it.each([
    ['nothing', '', 400, 'The revision is empty; it must be sent as JSON.'],
    ['half a document', '{"a":', 400, 'The revision is not valid JSON: Unexpected end of JSON input.'],
    ['a list', '[]', 422, undefined],
    ['null', 'null', 422, undefined],
    ['a hidden prototype', '{"__proto__":{"body":1}}', 422, undefined],
  ])('refuses %s', async (_, payload, status, detail) => {
    const { app } = await serve();
    const headers = { 'content-type': 'application/json' };
    const answer = await app.inject({ method: 'POST', url: '/api/revisions', headers, payload });
    expect(answer.statusCode).toBe(status);
    if (detail !== undefined) expect(answer.json()).toMatchObject({ detail });
  });

  it('refuses text that is not UTF-8 and a body that is not said to be JSON', async () => {
    const { app } = await serve();
    const to = { method: 'POST', url: '/api/revisions' } as const;
    const headers = { 'content-type': 'application/json' };
    const bytes = await app.inject({ ...to, headers, payload: Buffer.from([0x22, 0xff, 0x22]) });
    expect(bytes.json()).toMatchObject({ detail: 'The revision is not valid UTF-8 text; JSON must be.' });
    const form = await app.inject({ ...to, headers: { 'content-type': 'text/plain' }, payload: '{}' });
    expect(form.statusCode).toBe(415);
  });
});

describe('addresses', () => {
  it('says who is there', async () => {
    const { app } = await serve();
    const about = await app.inject('/api/about');
    expect(about.json()).toMatchObject({ name: 'pourline', kinds: { campaign: 1, plan: 1 } });
    expect((await app.inject('/api/health')).json()).toEqual({ status: 'ok', seq: 0, streams: 0 });
    expect((await app.inject({ method: 'HEAD', url: '/api/about' })).statusCode).toBe(200);
  });

  it('answers what is not there with 404, and a wrong method with 405 and the right ones', async () => {
    const { app } = await serve();
    for (const url of [
      '/api',
      '/api/nope',
      '/api/documents/x/revisions',
      '/api/campaigns/x/archive',
      '/api/attachments/x',
    ])
      expect((await app.inject(url)).statusCode, url).toBe(404);
    const wrong = await app.inject({ method: 'DELETE', url: '/api/revisions' });
    expect([wrong.statusCode, wrong.headers.allow]).toEqual([405, 'POST']);
    expect((await app.inject({ method: 'HEAD', url: '/api/events' })).statusCode).toBe(405);
    for (const since of ['-1', '1.5', 'x', '', '9'.repeat(30), '1&since=2'])
      expect((await app.inject(`/api/documents?since=${since}`)).statusCode, since).toBe(
        since === '1&since=2' ? 200 : 400,
      );
  });
});

describe('archives over HTTP', () => {
  it('carries a campaign with its files from one server to another', async () => {
    const one = await serve();
    const campaign = makeCampaign('Zum Hügel 濾杯');
    const water = makeWater(campaign.id);
    const venue = makeVenue(campaign.id);
    const plan = makePlan(campaign.id, water.id, venue.id);
    const upload = await one.app.inject({
      method: 'POST',
      url: '/api/attachments?name=run.csv',
      headers: { 'content-type': 'text/csv' },
      payload: 'time_s,mass_g\n0,0\n',
    });
    expect(upload.statusCode).toBe(201);
    const { hash } = upload.json<{ hash: string }>();
    const trial = makeTrial(campaign.id, plan.id, [hash]);
    for (const document of [campaign, water, venue, plan, trial]) await save(one.app, makeRevision(document));

    const archive = await one.app.inject(`/api/campaigns/${campaign.id}/archive`);
    expect(archive.headers['content-disposition']).toContain("filename*=UTF-8''Zum%20H%C3%BCgel%20");
    expect(checkArchive(archive.json())).toMatchObject({ ok: true });

    const two = await serve();
    const headers = { 'content-type': 'application/json' };
    const send = (url: string) => two.app.inject({ method: 'POST', url, headers, payload: archive.body });
    const first = await send('/api/archives');
    expect([first.statusCode, first.json()]).toEqual([
      201,
      { saved: 5, unchanged: 0, attachments: 1, campaign_ids: [campaign.id] },
    ]);
    const second = await send('/api/archives');
    expect([second.statusCode, second.json()]).toMatchObject([200, { saved: 0, unchanged: 5 }]);
    expect((await send('/api/archives?as_new=true')).json()).toMatchObject({ saved: 5 });
    const bodies = (archive: { documents: unknown; attachments: unknown }) => [
      archive.documents,
      archive.attachments,
    ];
    const back = await two.app.inject(`/api/campaigns/${campaign.id}/archive`);
    expect(bodies(back.json())).toEqual(bodies(archive.json()));
    const file = await two.app.inject(`/api/attachments/${hash}`);
    expect(file.body).toBe('time_s,mass_g\n0,0\n');
  });

  it('refuses an archive with problems as a whole', async () => {
    const { app, store } = await serve();
    const payload = {
      format: 'pourline-archive',
      version: 1,
      documents: [makeCampaign(), { ...makeWater(makeCampaign().id), calcium_mg_L: -1 }],
    };
    const answer = await app.inject({ method: 'POST', url: '/api/archives', payload });
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({ problems: [{ path: ['documents', 1, 'calcium_mg_L'] }] });
    expect(await store.lastSeq()).toBe(0);
  });
});

describe('attachments over HTTP', () => {
  it('hands a file back as it came, never to be run, to be kept for good', async () => {
    const { app } = await serve();
    const page = '<script>alert(1)</script>';
    const upload = await app.inject({
      method: 'POST',
      url: `/api/attachments?name=${encodeURIComponent('"odd\\" 濾杯.html')}`,
      headers: { 'content-type': 'text/html' },
      payload: page,
    });
    const { hash, size } = upload.json<{ hash: string; size: number }>();
    expect(size).toBe(page.length);
    const file = await app.inject(`/api/attachments/${hash}`);
    expect(file.body).toBe(page);
    expect(file.headers).toMatchObject({
      'content-type': 'text/html',
      'x-content-type-options': 'nosniff',
      'cache-control': 'private, max-age=31536000, immutable',
      'content-security-policy': expect.stringContaining('sandbox'),
      'content-disposition':
        'attachment; filename="_odd__ __.html"; filename*=UTF-8\'\'%22odd%5C%22%20%E6%BF%BE%E6%9D%AF.html',
    });
  });

  it('keeps JSON as a file too, and takes a name away from no one', async () => {
    const { app } = await serve();
    const to = { method: 'POST', url: '/api/attachments' } as const;
    const json = await app.inject({
      ...to,
      headers: { 'content-type': 'application/json' },
      payload: '{"a":',
    });
    expect([json.statusCode, json.json()]).toMatchObject([
      201,
      { name: 'file', media_type: 'application/json' },
    ]);
    const bad = await app.inject({ ...to, url: '/api/attachments?name=%00', payload: 'x' });
    expect([bad.statusCode, bad.json()]).toMatchObject([422, { problems: [{ path: ['name'] }] }]);
  });
});
