import { type Checked, checkKind, type Rehearsal, type RunEvent, runState } from '@pourline/core';
import type { StoredRun, StoredSound } from '../store/db.ts';

/**
 * The document that a run becomes. The same run always gives the same document under the same id, so that making it twice changes
 * nothing.
 */
export function rehearsalOfRun(
  { run_id, campaign_id, talk_id, plan_id, name, run }: StoredRun,
  events: readonly RunEvent[],
  sounds: readonly StoredSound[],
): Checked<Rehearsal> {
  const start = events.find(({ what }) => what === 'start');
  const first = sounds[0];
  return checkKind('rehearsal', {
    kind: 'rehearsal',
    version: 1,
    id: run_id,
    campaign_id,
    name: name.trim() || run.title || run_id,
    talk_id,
    plan_id,
    began_at: new Date(start?.wall_ms ?? 0).toISOString(),
    limit_s: run.limit_s,
    brewers: run.brewers,
    cues: run.cues,
    events: [...events].sort((a, b) => a.n - b.n),
    sound: first
      ? {
          media_type: first.media_type,
          size_kB: sounds.reduce((sum, { data }) => sum + data.byteLength, 0) / 1_000,
          from_s: first.from_s,
        }
      : null,
  });
}

/** How a stored run stands. */
export const phaseOf = ({ run }: StoredRun, events: readonly RunEvent[]): 'waiting' | 'running' | 'ended' =>
  runState(run.cues, events).phase;
