import { checkArchive } from '@pourline/core';
import { v4 as uuid4 } from 'uuid';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { AppendResult, Revision, Store } from '../src/types.ts';
import { makeCampaign, makePlan, makeRevision, makeTrial, makeVenue, makeWater } from './fixtures.ts';

/** How a storage engine is made and thrown away for one test. */
export interface EngineUnderTest {
  open(): Promise<Store>;
  dispose(): Promise<void>;
}

/** What every storage engine must do. Run it against each one. */
export function storeContract(name: string, engine: () => EngineUnderTest): void {
  describe(`${name} keeps the contract of a store`, () => {
    let made: EngineUnderTest;
    let store: Store;
    beforeEach(async () => {
      made = engine();
      store = await made.open();
    });
    afterEach(async () => {
      await store.close();
      await made.dispose();
    });
    describe('saving', () => saving(() => store));
    describe('reading', () => reading(() => store));
    describe('attachments', () => attachments(() => store));
    describe('archives', () => archives(() => store));
  });
}

/** The revision of a save that must have worked. */
export function savedIn(result: AppendResult): Revision {
  if (result.outcome !== 'saved') throw new Error(`expected saved, got ${JSON.stringify(result)}`);
  return result.revision;
}

function saving(open: () => Store): void {
  it('numbers the revisions of a document from 1 and links each to the one before', async () => {
    const campaign = makeCampaign();
    const one = savedIn(await open().appendRevision(makeRevision(campaign)));
    const renamed = { ...campaign, name: 'Harbour light cup, final' };
    const two = savedIn(await open().appendRevision(makeRevision(renamed, one.revision_id)));
    expect([one.rev, one.base_revision_id]).toEqual([1, null]);
    expect([two.rev, two.base_revision_id]).toEqual([2, one.revision_id]);
    expect(two.seq).toBeGreaterThan(one.seq);
    expect(two.body).toEqual(renamed);
  });

  it('takes a retry as harmless and says so', async () => {
    const input = makeRevision(makeCampaign());
    const first = savedIn(await open().appendRevision(input));
    const again = await open().appendRevision(structuredClone(input));
    expect(again).toEqual({ outcome: 'already', revision: first });
    expect(await open().history(first.document_id)).toHaveLength(1);
  });

  it('takes a retry as harmless even after somebody saved on top', async () => {
    const campaign = makeCampaign();
    const input = makeRevision(campaign);
    const one = savedIn(await open().appendRevision(input));
    await open().appendRevision(makeRevision({ ...campaign, name: 'Later' }, one.revision_id));
    expect(await open().appendRevision(input)).toEqual({ outcome: 'already', revision: one });
  });

  it('refuses a revision id that names other content', async () => {
    const campaign = makeCampaign();
    const input = makeRevision(campaign);
    await open().appendRevision(input);
    const other = await open().appendRevision({ ...input, body: { ...campaign, name: 'Something else' } });
    expect(other).toMatchObject({ outcome: 'invalid', problems: [{ path: ['revision_id'] }] });
  });

  it('reports a clash with what stands, and keeps it', async () => {
    const campaign = makeCampaign();
    const one = savedIn(await open().appendRevision(makeRevision(campaign)));
    const mine = { ...campaign, name: 'Mine' };
    const two = savedIn(await open().appendRevision(makeRevision(mine, one.revision_id)));
    const theirs = makeRevision({ ...campaign, name: 'Theirs' }, one.revision_id);
    expect(await open().appendRevision(theirs)).toEqual({ outcome: 'clash', current: two });
    expect(await open().document(campaign.id)).toEqual(two);
    const fresh = makeRevision({ ...campaign, name: 'From nothing' }, null);
    expect(await open().appendRevision(fresh)).toEqual({ outcome: 'clash', current: two });
  });

  it('takes in a document it does not hold whatever its base: a restored backup may lack that base', async () => {
    const base = uuid4();
    const input = makeRevision(makeCampaign(), base);
    const one = savedIn(await open().appendRevision(input));
    expect([one.rev, one.base_revision_id]).toEqual([1, base]);
    expect(await open().appendRevision(input)).toEqual({ outcome: 'already', revision: one });
  });

  it('lets only one of many writers with the same base through', async () => {
    const campaign = makeCampaign();
    const one = savedIn(await open().appendRevision(makeRevision(campaign)));
    const tries = Array.from({ length: 20 }, (_, i) =>
      open().appendRevision(makeRevision({ ...campaign, name: `Writer ${i}` }, one.revision_id)),
    );
    const outcomes = (await Promise.all(tries)).map((result) => result.outcome);
    expect(outcomes.filter((outcome) => outcome === 'saved')).toHaveLength(1);
    expect(outcomes.filter((outcome) => outcome === 'clash')).toHaveLength(19);
  });

  it('reports every problem of the document and of the fields around it', async () => {
    const bad = { ...makeWater(makeCampaign().id), calcium_mg_L: -3, sodium_mg_L: 'salty' };
    const result = await open().appendRevision({
      ...makeRevision(makeCampaign()),
      revision_id: 'r1',
      author: 'tab\tbed',
      body: bad,
    });
    if (result.outcome !== 'invalid') throw new Error(`expected invalid, got ${result.outcome}`);
    const paths = result.problems.map((p) => p.path.join('.')).sort();
    expect(paths).toEqual(['author', 'calcium_mg_L', 'revision_id', 'sodium_mg_L']);
    const calcium = result.problems.find((p) => p.path[0] === 'calcium_mg_L');
    expect(calcium?.sentence).toBe('Calcium is -3 mg/L; it must be at least 0 mg/L.');
    expect(await open().lastSeq()).toBe(0);
  });

  it('refuses a document that changes its kind, or fields that disagree with the document', async () => {
    const campaign = makeCampaign();
    const one = savedIn(await open().appendRevision(makeRevision(campaign)));
    const water = { ...makeWater(campaign.id), id: campaign.id };
    const changed = await open().appendRevision(makeRevision(water, one.revision_id));
    expect(changed).toMatchObject({ outcome: 'invalid', problems: [{ code: 'kind_changed' }] });
    const other = makeRevision(makeWater(campaign.id), null, { kind: 'venue' });
    expect(await open().appendRevision(other)).toMatchObject({ problems: [{ code: 'not_the_body' }] });
    const stray = { ...makeCampaign(), campaign_id: campaign.id };
    expect(await open().appendRevision(makeRevision(stray))).toMatchObject({
      problems: [{ code: 'campaign_of_itself' }],
    });
  });

  it('keeps any text of a document as it was, to the last odd character', async () => {
    const notes = 'nul \u0000, half a pair \ud800, 濾杯, "quotes", \u2028';
    const campaign = { ...makeCampaign(), notes };
    const saved = savedIn(await open().appendRevision(makeRevision(campaign)));
    expect(saved.body).toEqual(campaign);
    expect((await open().document(campaign.id))?.body).toEqual(campaign);
  });
}

function reading(open: () => Store): void {
  it('gives the latest revision of each document that changed since', async () => {
    const campaign = makeCampaign();
    const one = savedIn(await open().appendRevision(makeRevision(campaign)));
    const water = savedIn(await open().appendRevision(makeRevision(makeWater(campaign.id))));
    const two = savedIn(
      await open().appendRevision(makeRevision({ ...campaign, name: 'Renamed' }, one.revision_id)),
    );
    const all = await open().latest();
    expect(all.revisions).toEqual([water, two]);
    expect(all.seq).toBe(two.seq);
    expect((await open().latest(water.seq)).revisions).toEqual([two]);
    const none = await open().latest(two.seq);
    expect(none).toEqual({ seq: two.seq, history_id: all.history_id, revisions: [] });
    expect((await open().latest(two.seq + 100)).seq).toBe(two.seq);
  });

  it('gives the history of a document, oldest first, and nothing for an unknown one', async () => {
    const campaign = makeCampaign();
    let base: string | null = null;
    for (const name of ['One', 'Two', 'Three'])
      base = savedIn(await open().appendRevision(makeRevision({ ...campaign, name }, base))).revision_id;
    const names = (await open().history(campaign.id)).map((r) => (r.body as { name: string }).name);
    expect(names).toEqual(['One', 'Two', 'Three']);
    expect(await open().history(uuid4())).toEqual([]);
    expect(await open().document(uuid4())).toBeUndefined();
  });

  it('counts campaigns, an empty store being empty', async () => {
    expect(await open().latest()).toMatchObject({ seq: 0, revisions: [] });
    expect(await open().countCampaigns()).toBe(0);
    const campaign = makeCampaign();
    await open().appendRevision(makeRevision(campaign));
    await open().appendRevision(makeRevision(makeWater(campaign.id)));
    expect(await open().countCampaigns()).toBe(1);
    expect(await open().integrityCheck()).toEqual([]);
  });
}

function attachments(open: () => Store): void {
  const csv = { media_type: 'text/csv', name: 'balance.csv' };
  const bytes = new TextEncoder().encode('time_s,mass_g\n0,0\n1,4.9\n');
  // sha256sum of those 24 bytes.
  const hash = 'd12b789420837bf7b09d2f6349a93153aab5d8d13968758ea05bb748b73a9036';

  it('keeps a file under its SHA-256, once', async () => {
    const first = await open().putAttachment(bytes, csv);
    expect(first).toMatchObject({ outcome: 'saved', attachment: { hash, size: 24, ...csv } });
    const again = await open().putAttachment(bytes, { ...csv, name: 'again.csv' });
    expect(again).toMatchObject({ outcome: 'already', attachment: { hash, name: 'balance.csv' } });
    const found = await open().getAttachment(hash);
    expect(found).toMatchObject(csv);
    expect(Buffer.from(found?.bytes ?? []).equals(bytes)).toBe(true);
    expect(await open().getAttachment('0'.repeat(64))).toBeUndefined();
  });

  it('takes a stream', async () => {
    async function* stream() {
      for (const byte of bytes) yield Uint8Array.of(byte);
    }
    expect(await open().putAttachment(stream(), csv)).toMatchObject({ attachment: { hash } });
  });

  it('stops reading as soon as a stream is too long, and keeps nothing', async () => {
    let read = 0;
    async function* endless() {
      for (;;) {
        read += 1_000;
        yield new Uint8Array(1_000);
      }
    }
    const result = await open().putAttachment(endless(), csv, 10_000);
    expect(result).toEqual({ outcome: 'too_big', limit_bytes: 10_000 });
    expect(read).toBe(11_000);
    expect(await open().putAttachment(bytes, csv, 24)).toMatchObject({ outcome: 'saved' });
    expect(await open().putAttachment(bytes, csv, 23)).toMatchObject({ outcome: 'too_big' });
  });

  it('refuses a name or a media type that is none', async () => {
    const bad = await open().putAttachment(bytes, { media_type: 'csv', name: 'a\u0007b' });
    expect(bad).toMatchObject({ outcome: 'invalid' });
    if (bad.outcome === 'invalid')
      expect(bad.problems.map((p) => p.sentence)).toEqual([
        'Name holds control characters; write it as plain text on one line.',
        'Media type is "csv"; it must be a media type such as text/csv or image/jpeg.',
      ]);
    expect(await open().putAttachment(bytes, { media_type: 'text/csv', name: ' ' })).toMatchObject({
      problems: [{ path: ['name'] }],
    });
  });
}

function archives(open: () => Store): void {
  /** A campaign of five documents, one of which points to a file. */
  async function fill() {
    const store = open();
    const campaign = makeCampaign();
    const water = makeWater(campaign.id);
    const venue = makeVenue(campaign.id);
    const plan = makePlan(campaign.id, water.id, venue.id);
    const file = await store.putAttachment(new TextEncoder().encode('0,0\n1,5\n'), {
      media_type: 'text/csv',
      name: 'run.csv',
    });
    if (file.outcome !== 'saved') throw new Error('expected the file to be new');
    const trial = makeTrial(campaign.id, plan.id, [file.attachment.hash]);
    for (const document of [campaign, water, venue, plan, trial])
      savedIn(await store.appendRevision(makeRevision(document)));
    const archive = await store.exportCampaign(campaign.id);
    if (!archive) throw new Error('expected an archive');
    return { campaign, water, venue, plan, trial, archive, hash: file.attachment.hash };
  }

  it('exports a campaign with what it points to, and nothing of another campaign', async () => {
    await open().appendRevision(makeRevision(makeCampaign('Another')));
    const { campaign, water, venue, plan, trial, archive, hash } = await fill();
    expect(archive.documents).toEqual([campaign, water, venue, plan, trial]);
    expect(archive.attachments.map((a) => a.hash)).toEqual([hash]);
    expect(checkArchive(JSON.parse(JSON.stringify(archive)))).toMatchObject({ ok: true });
    expect(await open().exportCampaign(uuid4())).toBeUndefined();
    expect(await open().exportCampaign(water.id)).toBeUndefined();
  });

  it('leaves alone what stands here just so', async () => {
    const { campaign, archive } = await fill();
    const before = await open().lastSeq();
    expect(await open().importArchive(archive)).toEqual({
      outcome: 'imported',
      saved: 0,
      unchanged: 5,
      attachments: 0,
      campaign_ids: [campaign.id],
    });
    expect(await open().lastSeq()).toBe(before);
  });

  it('puts what differs on top, so that nothing is lost', async () => {
    const { water, archive } = await fill();
    const stand = await open().document(water.id);
    const edited = { ...water, calcium_mg_L: 40 };
    savedIn(await open().appendRevision(makeRevision(edited, stand?.revision_id ?? null)));
    expect(await open().importArchive(archive)).toMatchObject({ saved: 1, unchanged: 4 });
    const bodies = (await open().history(water.id)).map((r) => r.body);
    expect(bodies).toEqual([water, edited, water]);
  });

  it('imports as a new campaign beside the old one, with every reference following', async () => {
    const { campaign, plan, archive, hash } = await fill();
    const result = await open().importArchive(archive, { asNew: true });
    if (result.outcome !== 'imported') throw new Error('expected the import to work');
    expect(result).toMatchObject({ saved: 5, unchanged: 0, attachments: 0 });
    const copyId = result.campaign_ids[0] ?? '';
    expect(copyId).not.toBe(campaign.id);
    const copy = await open().exportCampaign(copyId);
    const [, water2, venue2, plan2, trial2] = copy?.documents ?? [];
    expect(plan2).toEqual({
      ...plan,
      id: plan2?.id,
      campaign_id: copyId,
      venue_id: venue2?.id,
      pours: plan.pours.map((pour) => ({ ...pour, water_id: water2?.id })),
    });
    expect(trial2).toMatchObject({ plan_id: plan2?.id, traces: [{ attachment: hash }] });
    expect(await open().countCampaigns()).toBe(2);
  });

  it('takes in all of an archive or nothing of it', async () => {
    const { archive, water } = await fill();
    const before = await open().lastSeq();
    const wrongKind = { ...makeVenue(water.campaign_id), id: water.id };
    const documents = [makeCampaign('New one'), wrongKind];
    const file = { ...archive.attachments[0]!, base64: 'AAAA' };
    expect(await open().importArchive({ ...archive, documents, attachments: [] })).toMatchObject({
      outcome: 'invalid',
      problems: [{ path: ['documents', 1, 'kind'], code: 'kind_changed' }],
    });
    expect(await open().importArchive({ ...archive, attachments: [file] })).toMatchObject({
      problems: [{ path: ['attachments', 0, 'base64'], code: 'wrong_hash' }],
    });
    expect(await open().importArchive({ ...archive, documents: [water, water] })).toMatchObject({
      problems: [{ path: ['documents', 1, 'id'], code: 'duplicate_id' }],
    });
    const broken = { ...archive, documents: [{ ...water, calcium_mg_L: -1 }] };
    expect(await open().importArchive(broken)).toMatchObject({
      problems: [{ path: ['documents', 0, 'calcium_mg_L'] }],
    });
    for (const nonsense of [undefined, null, 7, [], 'archive', { format: 'other' }])
      expect(await open().importArchive(nonsense)).toMatchObject({ outcome: 'invalid' });
    expect(await open().lastSeq()).toBe(before);
  });
}
