import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sample } from '../../documents/testing/samples.ts';
import { checkSchedule } from '../timing/check-schedule.ts';
import { beatsBetween } from './count-in.ts';
import { letterAngle_arcmin, letterHeight_mm, typeSize_mm } from './letters.ts';
import type { LiveRun } from './live-run.ts';
import { lookAt } from './look.ts';
import { runOfPlan } from './run-of-plan.ts';
import { runState } from './run-state.ts';
import { recorded } from './testing/recorded.ts';
import { choiceOf, liveWays } from './when-late.ts';

const plan = sample('plan');
const options = { brewers: 1, move_s: 3, give_s: 0, limit_s: 600, penalty: null };
const alone = runOfPlan(plan, options).run!;
const two = runOfPlan(plan, { ...options, brewers: 2, give_s: 20 }).run!;

describe('a run of a plan', () => {
  it('is the plan to the second for one brewer', () => {
    expect(alone.cues.map(({ id, at_s, water_g, scale_g }) => [id, at_s, water_g, scale_g])).toEqual([
      ['brewer 1 pour 1', 0, 50, 50],
      ['brewer 1 pour 2', 30, 50, 100],
      ['brewer 1 pour 3', 60, 50, 150],
      ['brewer 1 pour 4', 90, 50, 200],
      ['brewer 1 swirl 1', 104, null, null],
      ['brewer 1 lift', 150, null, null],
    ]);
  });

  it('has no clash for several, and keeps every wait', () => {
    expect(checkSchedule(two.network, two.starts)).toEqual([]);
    expect(two.cues.filter(({ what }) => what === 'pour')).toHaveLength(8);
    for (const brewer of [1, 2])
      expect(two.cues.filter((c) => c.brewer === brewer).flatMap(({ scale_g }) => scale_g ?? [])).toEqual([
        50, 100, 150, 200,
      ]);
  });

  it('says why when there is none, and what is nearest', () => {
    const twelve = runOfPlan(plan, { ...options, brewers: 12 });
    expect(twelve.run).toBeNull();
    expect(twelve.remarks.map(({ code }) => code)).toEqual([
      'brewers_do_not_fit',
      'way_fewer',
      'live_more_give',
    ]);
    expect(runOfPlan({ ...plan, pours: [] }, options).remarks[0]!.sentence).toMatch(/has no pours yet/);
    expect(runOfPlan(plan, { ...options, limit_s: 0 }).remarks[0]!.sentence).toBe(
      'The time allowed is 0:00. Give the run more than 0 s.',
    );
    const tight = runOfPlan(plan, { ...options, limit_s: 100 });
    expect(tight.run).not.toBeNull();
    expect(tight.remarks[0]).toMatchObject({ tone: 'watch', code: 'live_over', values: { over: 52 } });
    for (const { sentence } of [...twelve.remarks, ...tight.remarks])
      expect(sentence).not.toMatch(/[{}]|NaN|undefined/);
  });
});

describe('the state of a run', () => {
  const start = { what: 'start', at_s: 0, count_in_s: 0 } as const;
  const lap = (cue_id: string, at_s: number) => ({ what: 'lap', cue_id, at_s }) as const;

  it('takes a lap once, whatever comes twice, and gives it back when undone', () => {
    const events = recorded([start, lap('brewer 1 pour 1', 1), lap('brewer 1 pour 1', 4)]);
    const doubled = runState(alone.cues, [...events, ...events]);
    expect([...doubled.laps.values()].map(({ at_s }) => at_s)).toEqual([1]);
    expect(doubled.next_n).toBe(3);
    const undone = runState(
      alone.cues,
      recorded([start, lap('brewer 1 pour 1', 1), { what: 'undo', undoes: 1, at_s: 2 }]),
    );
    expect(undone.laps.size).toBe(0);
    expect(undone.undoable).toBeNull();
    const again = runState(
      alone.cues,
      recorded([
        start,
        lap('brewer 1 pour 1', 1),
        { what: 'undo', undoes: 1, at_s: 2 },
        lap('brewer 1 pour 1', 3),
      ]),
    );
    expect(again.laps.get('brewer 1 pour 1')!.at_s).toBe(3);
  });

  it('ends, and goes on when the end is taken back', () => {
    const ended = recorded([start, { what: 'end', at_s: 30, how: 'finished' }]);
    expect(runState(alone.cues, ended)).toMatchObject({ phase: 'ended', ended_s: 30, how: 'finished' });
    const on = recorded([
      start,
      { what: 'end', at_s: 30, how: 'stopped' },
      { what: 'undo', undoes: 1, at_s: 31 },
    ]);
    expect(runState(alone.cues, on)).toMatchObject({ phase: 'running', ended_s: null });
  });

  it('is the same whatever the order in which events are read', () => {
    const events = recorded([
      start,
      lap('brewer 1 pour 1', 1),
      { what: 'mark', at_s: 5 },
      { what: 'skip', cue_id: 'brewer 1 pour 2', at_s: 20 },
      { what: 'undo', undoes: 2, at_s: 21 },
      lap('brewer 1 pour 2', 33),
      { what: 'mode', mode: 'cues', at_s: 40 },
    ]);
    const straight = runState(alone.cues, events);
    fc.assert(
      fc.property(fc.shuffledSubarray(events, { minLength: events.length }), (shuffled) => {
        expect(runState(alone.cues, shuffled)).toEqual(straight);
      }),
      { numRuns: 30, seed: 5 },
    );
    expect(straight.skipped.size).toBe(0);
    expect(straight.marks).toEqual([]);
  });
});

describe('a look at a run', () => {
  const start = { what: 'start', at_s: 0, count_in_s: 0 } as const;
  const look = lookAt(alone);

  it('shows what is done, what comes next and how long that is away', () => {
    const state = runState(
      alone.cues,
      recorded([start, { what: 'lap', cue_id: 'brewer 1 pour 1', at_s: 0.5 }]),
    );
    const at = look(state, 6);
    expect(at.lanes).toHaveLength(1);
    expect(at.lanes[0]).toMatchObject({
      doing: { cue: { id: 'brewer 1 pour 1' }, left_s: 4.5 },
      remaining: 5,
    });
    expect(at.next).toMatchObject({ cue: { id: 'brewer 1 pour 2' }, in_s: 24 });
    // The plan gives the second pour no room, so half a second late stays half a second late.
    expect(at.behind_s).toBeCloseTo(0.5, 9);
    expect(at.overdue).toEqual([]);
  });

  it('moves all that follows a late pour, and says when the run then ends', () => {
    const state = runState(
      alone.cues,
      recorded([start, { what: 'lap', cue_id: 'brewer 1 pour 1', at_s: 8 }]),
    );
    const at = look(state, 20);
    expect(at.next!.due_s).toBeCloseTo(38, 9);
    expect(at.behind_s).toBeCloseTo(8, 9);
    expect(at.ends_s).toBeCloseTo(160, 9);
    expect(at.over_s).toBe(0);
  });

  it('calls late what has not begun, and names the wait that breaks', () => {
    const state = runState(
      alone.cues,
      recorded([start, { what: 'lap', cue_id: 'brewer 1 pour 1', at_s: 0 }]),
    );
    const at = look(state, 50);
    expect(at.overdue.map(({ cue }) => cue.id)).toEqual(['brewer 1 pour 2']);
    expect(at.broken).toContainEqual({ from: 'brewer 1 pour 1', to: 'brewer 1 pour 2', by_s: 20 });
    expect(look(state, 31).overdue).toEqual([]);
  });

  it('counts what is planned as begun when nobody taps', () => {
    const state = runState(alone.cues, recorded([start, { what: 'mode', mode: 'cues', at_s: 0 }]));
    expect(look(state, 61).next!.cue.id).toBe('brewer 1 pour 4');
    expect(look(state, 200)).toMatchObject({ done: true, next: null });
  });
});

describe('count-ins', () => {
  it('are three before and one at it, none for what has begun, none over another', () => {
    const idle = runState(alone.cues, []);
    expect(beatsBetween(alone.cues, idle, 25, 35).map(({ at_s, tone }) => [at_s, tone])).toEqual([
      [27, 'ready'],
      [28, 'ready'],
      [29, 'ready'],
      [30, 'go'],
    ]);
    const close = alone.cues.slice(0, 2).map((cue, i) => ({ ...cue, at_s: 10 + 2 * i }));
    expect(beatsBetween(close, runState(close, []), 0, 60).map(({ at_s }) => at_s)).toEqual([
      7, 8, 9, 10, 11, 12,
    ]);
    const begun = runState(
      alone.cues,
      recorded([
        { what: 'start', at_s: 0, count_in_s: 0 },
        { what: 'lap', cue_id: 'brewer 1 pour 2', at_s: 26 },
      ]),
    );
    expect(beatsBetween(alone.cues, begun, 25, 35)).toEqual([]);
  });
});

describe('going on when late', () => {
  const withPoints: LiveRun = {
    ...two,
    limit_s: Math.round(Math.max(...two.cues.map(({ at_s, takes_s }) => at_s + takes_s))),
    penalty: { grace_s: 0, points: 1, every_s: 1, counts: 'begun', cap_points: null, hard_stop_s: 60 },
    expendable: [{ name: 'last pour of the second brewer', cue_ids: ['brewer 2 pour 4'], points: 2 }],
  };
  const events = recorded([
    { what: 'start', at_s: 0, count_in_s: 0 },
    { what: 'lap', cue_id: 'brewer 1 pour 1', at_s: 1 },
    { what: 'lap', cue_id: 'brewer 2 pour 1', at_s: 20 },
  ]);
  const state = runState(withPoints.cues, events);

  it('offers ways with their points, and the chosen one becomes the plan', () => {
    const ways = liveWays(withPoints, state, 45);
    expect(ways.length).toBe(2);
    const without = ways.find(({ left_out }) => left_out.length > 0)!;
    expect(without.left_out_ids).toEqual(['brewer 2 pour 4']);
    for (const way of ways) {
      expect(way.points).toBeCloseTo(way.dropped_points + way.overtime_points, 9);
      for (const { at_s } of way.starts) expect(at_s).toBeGreaterThanOrEqual(45);
    }
    const chosen = runState(withPoints.cues, [
      ...events,
      { ...choiceOf(without), n: 3, at_s: 46, wall_ms: 1, mono_ms: 1, opened_ms: 1 },
    ]);
    expect([...chosen.skipped]).toEqual(['brewer 2 pour 4']);
    for (const { cue_id, at_s } of without.starts) expect(chosen.planned.get(cue_id)).toBe(at_s);
    expect(chosen.undoable).toMatchObject({ n: 3, what: 'choice' });
    expect(liveWays(withPoints, chosen, 47).every(({ left_out }) => left_out.length === 0)).toBe(true);
  });

  it('has an answer even when two laps lie closer than hands can go', () => {
    const odd = runState(withPoints.cues, [
      ...events,
      { what: 'lap', cue_id: 'brewer 1 pour 2', n: 3, at_s: 20.2, wall_ms: 1, mono_ms: 1, opened_ms: 1 },
    ]);
    const ways = liveWays(withPoints, odd, 45);
    expect(ways.length).toBeGreaterThan(0);
    expect(ways[0]!.starts.length).toBeGreaterThan(0);
  });
});

describe('letters', () => {
  it('take up the angle that is asked of them', () => {
    // h = 2 d tan(α/2): 20 minutes of arc at 2 m, worked out by hand: 4000 mm × tan(0.16667°) = 11.636 mm.
    expect(letterHeight_mm(20, 2)).toBeCloseTo(11.636, 3);
    expect(letterAngle_arcmin(letterHeight_mm(16, 2), 2)).toBeCloseTo(16, 9);
    expect(typeSize_mm(20, 2)).toBeCloseTo(17.63, 2);
  });
});
