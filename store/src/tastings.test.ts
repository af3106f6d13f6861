import { join } from 'node:path';
import { chanceFrom, planSession, runOf, statusOf } from '@pourline/core';
import { makeTasting } from '@pourline/core/testing/sessions';
import { v7 as uuid7 } from 'uuid';
import { describe, expect, it, vi } from 'vitest';
import { makeCampaign, makeRevision, temporaryFolders } from '../test/index.ts';
import { openDatabase } from './database.ts';
import { openStore } from './index.ts';

vi.setConfig({ testTimeout: 60_000 });

const folder = temporaryFolders();
const AT = Date.parse('2031-04-02T09:00:00Z');

/** A store with a tasting whose session is open. */
async function opened() {
  const file = join(await folder(), 'a.sqlite');
  const store = await openStore({ file, now: () => new Date(AT) });
  const campaign = makeCampaign();
  await store.appendRevision(makeRevision(campaign));
  const tasting = { ...makeTasting({ method: { test: 'triangle' } }), campaign_id: campaign.id };
  await store.appendRevision(makeRevision(tasting));
  const { run: _, ...design } = tasting;
  const made = planSession(design, { codes: chanceFrom(1), orders: chanceFrom(2) });
  if (!made.ok) throw new Error('the design cannot be planned');
  const session = {
    session_id: uuid7(),
    request_id: uuid7(),
    document_id: tasting.id,
    campaign_id: campaign.id,
    opened_at: AT,
    design,
    plan: made.value,
    join_code: 'BCD234',
    join_until: AT + 1_000,
  };
  expect((await store.tastings.open(session)).outcome).toBe('opened');
  return { store, file, session, tasting };
}

describe('a session in the store', () => {
  it('is opened once for a document, whoever asks', async () => {
    const { store, session } = await opened();
    const again = { ...session, session_id: uuid7(), request_id: uuid7(), join_code: 'XXXXXX' };
    expect(await store.tastings.open(again)).toMatchObject({
      outcome: 'already',
      session: { session_id: session.session_id, join_code: 'BCD234' },
    });
    expect((await store.tastings.codes(AT)).map((c) => c.code)).toEqual(['BCD234']);
    expect(await store.tastings.codes(AT + 1_000)).toEqual([]);
    await store.close();
  });

  it('writes all of a change or nothing of it', async () => {
    const { store, session, tasting } = await opened();
    const { session_id } = session;
    const started = { event: { type: 'started' as const }, event_id: null };
    const broken = store.tastings.change(session_id, () => ({
      change: { events: [started], document: (standing) => ({ ...standing, seats: -1 }) },
      answer: null,
    }));
    await expect(broken).rejects.toThrow(/no sound document/);
    expect((await store.tastings.now(session_id))?.log).toEqual([]);
    const closed = { event: { type: 'closed' as const }, event_id: null };
    await store.tastings.change(session_id, () => ({
      change: {
        events: [started, closed],
        document: (standing, log) => ({
          ...standing,
          run: runOf(session.design, session.plan, statusOf(log), AT),
        }),
      },
      answer: null,
    }));
    expect((await store.document(tasting.id))?.rev).toBe(2);
    expect(await store.integrityCheck()).toEqual([]);
    await store.close();
  });

  it('keeps what happened: no event is ever changed or taken away', async () => {
    const { store, file, session } = await opened();
    const event_id = uuid7();
    await store.tastings.change(session.session_id, () => ({
      change: { events: [{ event: { type: 'started' }, event_id }] },
      answer: null,
    }));
    await store.close();
    const { driver } = await openDatabase(file);
    for (const statement of [
      "update tasting_events set event = '{}'",
      'delete from tasting_events',
      "insert or replace into tasting_events select seq, session_id, event_id, at, '{}' from tasting_events",
    ])
      expect(() => driver.prepare(statement).run([]), statement).toThrow(/append-only/);
    await driver.release();
  });
});
