import type { LiveRun, RunEvent } from '@pourline/core';
import type { StoredRun } from '../store/db.ts';

export { LEAST_ARCMIN } from '@pourline/core';

/** A small invented run: two pours and a sentence between them. */
export function sampleLiveRun(): LiveRun {
  const none = { brewer: null, water_g: null, scale_g: null, title: '', text: '' };
  const cues = [
    { ...none, id: 'p1', what: 'pour' as const, brewer: 1, at_s: 0, takes_s: 10, water_g: 50, scale_g: 50 },
    {
      ...none,
      id: 'hill',
      what: 'say' as const,
      at_s: 12,
      takes_s: 15,
      title: 'The hill',
      text: 'Grown high up.',
    },
    { ...none, id: 'p2', what: 'pour' as const, brewer: 1, at_s: 30, takes_s: 10, water_g: 50, scale_g: 100 },
  ];
  return {
    title: 'Four pours',
    cues,
    brewers: 1,
    limit_s: 60,
    network: {
      tasks: cues.map(({ id, takes_s, what }) => ({
        id,
        duration: 1_000 * takes_s,
        needs: what === 'say' ? { voice: 1 } : { hands: 1 },
      })),
      lags: [{ from: 'p1', to: 'p2', min: 30_000, max: 50_000 }],
      resources: { hands: 1, voice: 1 },
      limit: 600_000,
    },
    starts: { p1: 0, hill: 12_000, p2: 30_000 },
    ticks_per_s: 1_000,
    penalty: null,
    expendable: [],
  };
}

/** The same as it is kept, with what happened in it. */
export function sampleRun(): { stored: StoredRun; events: RunEvent[] } {
  const wall_ms = 1_804_158_300_000;
  const at = (n: number, at_s: number) => ({
    n,
    at_s,
    wall_ms: wall_ms + 1_000 * at_s,
    mono_ms: 5_000 + 1_000 * at_s,
    opened_ms: wall_ms - 5_000,
  });
  return {
    stored: {
      run_id: '0190a5d2-7c3e-7b10-8f00-0000000000aa',
      campaign_id: '0190a5d2-7c3e-7b10-8f00-000000000001',
      talk_id: null,
      plan_id: null,
      name: 'Third run',
      prepared_at: '2027-03-04T19:00:00.000Z',
      run: sampleLiveRun(),
      settings: { mode: 'tap', count_in_s: 0, sounds: false, vibration: false, recording: false },
      closed: null,
    },
    events: [
      { what: 'start', ...at(0, 0), count_in_s: 0 },
      { what: 'lap', ...at(1, 0.4), cue_id: 'p1' },
      { what: 'lap', ...at(2, 13.1), cue_id: 'hill' },
      { what: 'end', ...at(3, 45), how: 'finished' },
    ],
  };
}
