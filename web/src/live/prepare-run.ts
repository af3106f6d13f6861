import type { LiveRun } from '@pourline/core';
import { newId } from '../replica/ids.ts';
import { openLog } from './keep-run.ts';
import type { RunSettings } from './store/db.ts';

/** What a run is of. */
export interface RunAbout {
  campaign_id: string;
  talk_id: string | null;
  plan_id: string | null;
  name: string;
}

export const USUAL_SETTINGS: RunSettings = {
  mode: 'tap',
  count_in_s: 5,
  sounds: true,
  vibration: true,
  recording: false,
};

/** Puts a run ready for the live view and gives its id. */
export async function prepareRun(run: LiveRun, about: RunAbout, settings: RunSettings): Promise<string> {
  const run_id = newId();
  const log = await openLog();
  await log.prepare({
    run_id,
    ...about,
    prepared_at: new Date().toISOString(),
    run,
    settings,
    closed: null,
  });
  return run_id;
}

/** Address of the live view of a run. */
export const liveHref = (run_id: string): string => `#/live/${encodeURIComponent(run_id)}`;
