import { describe, expect, it } from 'vitest';
import { sample, sampleBundle } from '../../documents/testing/samples.ts';
import { compareRuns } from '../rehearsal/compare-runs.ts';
import { timedRunOf } from '../rehearsal/run-history.ts';
import { planRun } from '../run/plan-run.ts';
import { talkOfRun } from '../run/run-talk.ts';
import { checkSchedule } from '../timing/check-schedule.ts';
import { lookAt } from './look.ts';
import { runOfTalk } from './run-of-talk.ts';
import { runState } from './run-state.ts';
import { recorded } from './testing/recorded.ts';
import { liveWays } from './when-late.ts';

const talk = sample('talk');
const contest = sample('contest');
const prepared = (change: Partial<typeof talk> = {}) => {
  const asked = { ...talk, ...change };
  const planned = planRun({ talk: asked, bundle: sampleBundle(), contest, trials: [] });
  return runOfTalk(asked, planned, talkOfRun(asked, planned, []), contest);
};
const { run, remarks } = prepared();

describe('a run of brew and talk', () => {
  it('has a cue for everything hands and voice do, in one network without clashes', () => {
    expect(remarks[0]!.code).toBe('live_fits');
    expect(new Set(run!.cues.map(({ what }) => what))).toEqual(
      new Set(['pour', 'swirl', 'decant', 'serve', 'say']),
    );
    expect(checkSchedule(run!.network, run!.starts)).toEqual([]);
    for (const { id, at_s } of run!.cues) expect(run!.starts[id]).toBe(Math.round(at_s * run!.ticks_per_s));
    expect(run!.expendable).toEqual([{ name: 'The hill', cue_ids: ['story'], points: 0.5 }]);
  });

  it('offers ways on from the middle, with what follows from a pour left where the pour put it', () => {
    const began = run!.cues.filter(({ at_s }) => at_s < 60);
    const state = runState(
      run!.cues,
      recorded([
        { what: 'start', at_s: 0, count_in_s: 0 },
        ...began.map(({ id, at_s }) => ({ what: 'lap', cue_id: id, at_s: at_s + 1 }) as const),
      ]),
    );
    const ways = liveWays(run!, state, 75);
    expect(ways.length).toBeGreaterThan(0);
    expect(ways[0]!.starts.every(({ at_s }) => at_s >= 75)).toBe(true);
    expect(lookAt(run!)(state, 75).next!.cue.at_s).toBeGreaterThanOrEqual(60);
    const out = ways.find(({ left_out_ids }) => left_out_ids.includes('story'));
    if (!began.some(({ id }) => id === 'story')) expect(out!.dropped_points).toBe(0.5);
  });

  it('leaves the plan as it is when nothing is late', () => {
    const first = run!.cues[0]!;
    const state = runState(
      run!.cues,
      recorded([
        { what: 'start', at_s: 0, count_in_s: 0 },
        { what: 'lap', cue_id: first.id, at_s: first.at_s },
      ]),
    );
    const whole = liveWays(run!, state, 0.5).find(({ left_out }) => left_out.length === 0)!;
    expect(whole.broken).toEqual([]);
    const ends = Math.max(...run!.cues.map(({ at_s, takes_s }) => at_s + takes_s));
    expect(whole.ends_s).toBeLessThanOrEqual(ends + 4);
  });

  it('becomes one of the runs that the talk is timed by', () => {
    const [times] = compareRuns([
      {
        ...sample('rehearsal'),
        cues: [...run!.cues],
        events: recorded([
          { what: 'start', at_s: 0, count_in_s: 0 },
          ...run!.cues.map(({ id, at_s }) => ({ what: 'lap', cue_id: id, at_s }) as const),
          { what: 'end', at_s: 400, how: 'finished' },
        ]),
      },
    ]).runs;
    const timed = timedRunOf(times!);
    expect(timed.ended_s).toBe(400);
    // As planned, so each that the next one follows closely took what it was planned to take.
    for (const [id, took_s] of Object.entries(timed.segments))
      expect(took_s).toBeCloseTo(run!.cues.find((cue) => cue.id === id)!.takes_s, 6);
  });

  it('says what is not possible instead of beginning it', () => {
    const many = prepared({ brewing: { ...talk.brewing, brewers: 12, give_s: 0 } });
    expect(many.run).toBeNull();
    expect(many.remarks[0]!.sentence).toMatch(/12 brewers cannot be poured/);
    const none = prepared({ limit_s: 0 });
    expect(none.run).toBeNull();
    expect(none.remarks[0]!.sentence).toBe('The time allowed is 0:00. Give the run more than 0 s.');
  });
});
