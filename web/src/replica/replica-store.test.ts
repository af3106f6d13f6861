import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it } from 'vitest';
import { openDatabase } from './db.ts';
import { newId } from './ids.ts';
import { ReplicaStore, type SaveRequest } from './replica-store.ts';
import { CAMPAIGN, revision, VENUE, venue } from './testing/documents.ts';

const me = { author: 'brewer', device: 'tablet' };
let store: ReplicaStore;

beforeEach(async () => {
  store = new ReplicaStore(await openDatabase(`test-${newId()}`));
});

const request = (base_revision_id: string | null, body: unknown, more: Partial<SaveRequest> = {}) => ({
  kind: 'venue' as const,
  document_id: VENUE,
  campaign_id: CAMPAIGN,
  base_revision_id,
  body,
  at: '2031-03-01T10:00:00.000Z',
  ...more,
});

/** Saves and gives the id of the new state. */
async function saved(base: string | null, body: unknown): Promise<string> {
  const outcome = await store.save(request(base, body), me);
  if (outcome.outcome !== 'saved') throw new Error(`expected a saved state, got ${outcome.outcome}`);
  return outcome.revision.revision_id;
}

describe('saving', () => {
  it('chains states in the outbox, each on the one before', async () => {
    const first = await saved(null, venue());
    const second = await saved(first, venue({ air_C: 22 }));
    expect((await store.waiting()).map((entry) => entry.revision_id)).toEqual([first, second]);
    expect((await store.document(VENUE))?.head).toMatchObject({ revision_id: second, ...me });
  });

  it('adds nothing when nothing changed', async () => {
    const first = await saved(null, venue());
    expect((await store.save(request(first, venue()), me)).outcome).toBe('same');
    expect(await store.waiting()).toHaveLength(1);
  });

  it('sets aside a state whose document has moved on, and keeps both', async () => {
    const first = await saved(null, venue());
    const other = await saved(first, venue({ air_C: 22 }));
    const outcome = await store.save(request(first, venue({ air_C: 30 })), me);
    expect(outcome.outcome).toBe('clash');
    const [clash] = await store.clashes();
    expect(clash).toMatchObject({ base: venue(), reason: 'moved_on', theirs: { revision_id: other } });
    expect(clash?.mine.body).toEqual(venue({ air_C: 30 }));
    expect((await store.document(VENUE))?.head.revision_id).toBe(other);
    const standings = (await store.history(VENUE)).map((kept) => kept.standing);
    expect(standings.sort()).toEqual(['pending', 'pending', 'set_aside']);
  });

  it('does not call it a clash when the person changed nothing since', async () => {
    const first = await saved(null, venue());
    await saved(first, venue({ air_C: 22 }));
    expect((await store.save(request(first, venue()), me)).outcome).toBe('behind');
    expect(await store.clashes()).toEqual([]);
  });

  it('drops the draft and the clash it settles in the same stroke', async () => {
    const first = await saved(null, venue());
    await saved(first, venue({ air_C: 22 }));
    const lost = await store.save(request(first, venue({ air_C: 30 })), me);
    if (lost.outcome !== 'clash') throw new Error('expected a clash');
    await store.keepDraft({
      key: 'k',
      document_id: VENUE,
      tab_id: 't',
      kind: 'venue',
      base_revision_id: first,
      body: {},
      at: '',
    });
    const settles = lost.clash.clash_id;
    const base = lost.head.revision_id;
    await store.save(request(base, venue({ air_C: 30 }), { settles, draft_key: 'k' }), me);
    expect(await store.clashes()).toEqual([]);
    expect(await store.drafts()).toEqual([]);
  });
});

describe('receiving', () => {
  it('follows the server when nothing waits', async () => {
    const theirs = revision({ seq: 3 });
    expect(await store.receiveAll([theirs])).toEqual([VENUE]);
    expect((await store.document(VENUE))?.head).toEqual(theirs);
    expect(await store.receiveAll([theirs])).toEqual([]);
  });

  it('empties the outbox up to the state that came back', async () => {
    const first = await saved(null, venue());
    const second = await saved(first, venue({ air_C: 22 }));
    await store.receiveAll([revision({ revision_id: first, seq: 1 })]);
    expect((await store.waiting()).map((entry) => entry.revision_id)).toEqual([second]);
    expect((await store.document(VENUE))?.head.revision_id).toBe(second);
    await store.receiveAll([revision({ revision_id: second, base_revision_id: first, seq: 2 })]);
    expect(await store.waiting()).toEqual([]);
    expect((await store.revision(second))?.standing).toBe('saved');
  });

  it('sets the whole waiting chain aside when somebody else was faster', async () => {
    const origin = revision({ seq: 1 });
    await store.receiveAll([origin]);
    const first = await saved(origin.revision_id, venue({ air_C: 22 }));
    await saved(first, venue({ air_C: 23 }));
    const theirs = revision({ seq: 2, base_revision_id: origin.revision_id, body: venue({ air_C: 30 }) });
    expect(await store.receiveAll([theirs])).toEqual([VENUE]);
    const [clash] = await store.clashes();
    expect(clash).toMatchObject({ base: origin.body, theirs: { revision_id: theirs.revision_id } });
    expect(clash?.mine.body).toEqual(venue({ air_C: 23 }));
    expect(await store.waiting()).toEqual([]);
    expect((await store.document(VENUE))?.head.revision_id).toBe(theirs.revision_id);
  });

  it('does not clash with a state that says what ours grew from', async () => {
    const shipped = revision({ seq: null, rev: null });
    await store.seed([shipped]);
    const mine = await saved(shipped.revision_id, venue({ air_C: 22 }));
    const servers = revision({ seq: 1 });
    expect(await store.receiveAll([servers])).toEqual([VENUE]);
    expect(await store.clashes()).toEqual([]);
    expect((await store.revision(mine))?.base_revision_id).toBe(servers.revision_id);
  });

  it('keeps a refused state with what is wrong with it', async () => {
    const origin = revision({ seq: 1 });
    await store.receiveAll([origin]);
    const mine = await saved(origin.revision_id, venue({ air_C: 22 }));
    const problems = [{ path: ['air_C'], code: 'too_big', values: {}, sentence: 'Too hot.' }];
    await store.refuse(mine, problems);
    expect(await store.clashes()).toMatchObject([{ clash_id: mine, reason: 'refused', problems }]);
    expect(await store.waiting()).toEqual([]);
    expect((await store.document(VENUE))?.head.revision_id).toBe(origin.revision_id);
  });
});

describe('a server restored from a backup', () => {
  it('gets back what it lost, on top of what it still has', async () => {
    const first = revision({ seq: 1 });
    const second = revision({ seq: 2, base_revision_id: first.revision_id, body: venue({ air_C: 22 }) });
    const third = revision({ seq: 3, base_revision_id: second.revision_id, body: venue({ air_C: 23 }) });
    await store.receiveAll([first, second, third]);
    const mine = await saved(third.revision_id, venue({ air_C: 24 }));
    await store.distrustServer();
    expect((await store.waiting()).map((entry) => entry.revision_id)).toEqual([third.revision_id, mine]);
    // The backup still has the first state only.
    await store.receiveAll([first]);
    expect(await store.clashes()).toEqual([]);
    expect((await store.document(VENUE))?.head.revision_id).toBe(mine);
    expect((await store.revision(third.revision_id))?.base_revision_id).toBe(first.revision_id);
  });
});

describe('seeding', () => {
  it('never overwrites and never waits to be sent', async () => {
    const first = await saved(null, venue({ name: 'Mine' }));
    await store.seed([revision({ seq: null, rev: null })]);
    expect((await store.document(VENUE))?.head.revision_id).toBe(first);
    expect(await store.waiting()).toHaveLength(1);
  });
});
