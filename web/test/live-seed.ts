import { planRun, runOfTalk, type Talk, talkOfRun } from '@pourline/core';
import type { Page } from 'playwright-core';
import {
  CAMPAIGN_ID,
  PLAN_ID,
  sample,
  sampleBundle,
  TALK_ID,
} from '../../core/src/documents/testing/samples.ts';
import type { RunSettings, StoredRun } from '../src/live/store/db.ts';

const SETTINGS: RunSettings = { mode: 'tap', count_in_s: 0, sounds: true, vibration: true, recording: false };

/** An invented run of brew and talk, prepared as the desk does it. */
export function seededRun(
  change: { talk?: Partial<Talk>; settings?: Partial<RunSettings>; run_id?: string } = {},
): StoredRun {
  const talk = { ...sample('talk'), ...change.talk };
  const contest = sample('contest');
  const planned = planRun({ talk, bundle: sampleBundle(), contest, trials: [] });
  const prepared = runOfTalk(talk, planned, talkOfRun(talk, planned, []), contest);
  if (!prepared.run) throw new Error(prepared.remarks.map(({ sentence }) => sentence).join(' '));
  return {
    run_id: change.run_id ?? '0190a5d2-7c3e-7b10-8f00-0000000000aa',
    campaign_id: CAMPAIGN_ID,
    talk_id: TALK_ID,
    plan_id: PLAN_ID,
    name: 'Lantern Cup, third run',
    prepared_at: '2027-03-04T19:00:00.000Z',
    run: prepared.run,
    settings: { ...SETTINGS, ...change.settings },
    closed: null,
  };
}

/** Puts a prepared run into the browser's log; the page must be of the app. */
export async function putRun(page: Page, run: StoredRun): Promise<void> {
  await page.evaluate(async (stored) => {
    const db = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open('pourline-live');
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const tx = db.transaction('runs', 'readwrite');
    tx.objectStore('runs').put(stored);
    await new Promise((done) => {
      tx.oncomplete = done;
    });
    db.close();
  }, run);
}
