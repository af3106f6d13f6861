import { describe, expect, it } from 'vitest';
import type { Cue, Rehearsal } from '../../documents/kinds/rehearsal.ts';
import { checkKind } from '../../documents/registry.ts';
import { sample, sampleBody } from '../../documents/testing/samples.ts';
import { recorded } from '../live/testing/recorded.ts';
import { compareRuns } from './compare-runs.ts';
import { driftOf, learningOf } from './learning.ts';
import { ownPace } from './own-pace.ts';
import { historyOf, latenessOf, plannedLengths } from './run-history.ts';
import { timesOf } from './run-times.ts';

const words = (n: number): string => Array.from({ length: n }, () => 'word').join(' ');

const CUES: Cue[] = [
  { id: 'p1', what: 'pour', brewer: 1, at_s: 0, takes_s: 10, water_g: 50, scale_g: 50, title: '', text: '' },
  {
    id: 'hill',
    what: 'say',
    brewer: null,
    at_s: 12,
    takes_s: 15,
    water_g: null,
    scale_g: null,
    title: '',
    text: words(35),
  },
  {
    id: 'p2',
    what: 'pour',
    brewer: 1,
    at_s: 30,
    takes_s: 10,
    water_g: 50,
    scale_g: 100,
    title: '',
    text: '',
  },
  {
    id: 'cup',
    what: 'say',
    brewer: null,
    at_s: 42,
    takes_s: 18,
    water_g: null,
    scale_g: null,
    title: '',
    text: words(42),
  },
];

/** A run whose cues began at these moments; null where nobody tapped. */
function run(day: number, began: readonly (number | null)[], end: number | null, limit_s = 65): Rehearsal {
  return {
    ...sample('rehearsal'),
    id: `0190a5d2-7c3e-7b10-8f00-0000000001${String(day).padStart(2, '0')}`,
    name: `Run ${day}`,
    began_at: `2027-03-${String(day).padStart(2, '0')}T09:00:00+00:00`,
    limit_s,
    cues: CUES,
    events: recorded([
      { what: 'start', at_s: 0, count_in_s: 0 },
      ...began.flatMap((at_s, i) =>
        at_s === null ? [] : [{ what: 'lap', cue_id: CUES[i]!.id, at_s } as const],
      ),
      ...(end === null ? [] : [{ what: 'end', at_s: end, how: 'finished' } as const]),
    ]),
  };
}

describe('the times of a run', () => {
  it('are laps against the plan, and stretches from lap to lap', () => {
    const times = timesOf(run(1, [0.5, 14, 33, null], 61));
    expect(times.cues.map(({ late_s }) => late_s)).toEqual([0.5, 2, 3, null]);
    expect(times.cues.map(({ took_s }) => took_s)).toEqual([13.5, 19, null, null]);
    expect(times.cues.map(({ planned_took_s }) => planned_took_s)).toEqual([12, 18, 12, 18]);
    expect(times).toMatchObject({ ended_s: 61, over_s: -4, tapped: 3 });
  });

  it('add up to the whole run when all was tapped', () => {
    const times = timesOf(run(1, [0.5, 14, 33, 44], 61));
    expect(times.cues.reduce((sum, { took_s }) => sum + took_s!, 0)).toBeCloseTo(60.5, 9);
  });

  it('leave gaps where laps came in another order or the run was broken off', () => {
    const crossed = timesOf(run(1, [0, 33, 31, 44], 61));
    expect(crossed.cues[1]!.took_s).toBeNull();
    expect(timesOf(run(1, [0, 14, 33, 44], null)).ended_s).toBeNull();
  });
});

describe('runs together', () => {
  const runs = [
    run(3, [0, 13, 31, 44], 63),
    run(1, [0, 15, 36, 50], 72),
    run(2, [0, 14, null, 47], 67),
    run(4, [1, 13, 31, 43], 62),
  ];

  it('are put in the order in which they were made, and feed the forecast', () => {
    const { runs: ordered, forecast, ...rest } = compareRuns(runs);
    expect(ordered.map(({ name }) => name)).toEqual(['Run 1', 'Run 2', 'Run 3', 'Run 4']);
    expect(historyOf(ordered)).toEqual([
      { id: 'p1', times_s: [15, 14, 13, 12] },
      { id: 'hill', times_s: [21, null, 18, 18] },
      { id: 'p2', times_s: [14, null, 13, 12] },
      { id: 'cup', times_s: [22, 20, 19, 19] },
    ]);
    expect(forecast!.segments.map(({ n }) => n)).toEqual([4, 3, 3, 4]);
    expect(rest.mean_s).toBeCloseTo(66, 9);
    expect(rest.chance_over).toBeGreaterThan(0.4);
    expect(rest.slips.begins).toBe('p1');
    expect(rest.drift!.per_run_s).toBeCloseTo(-3.4, 9);
    expect(plannedLengths(ordered)).toEqual({ p1: 12, hill: 18, p2: 12, cup: 18 });
  });

  it('say how late each cue begins and how that spreads', () => {
    const late = latenessOf(compareRuns(runs).runs);
    expect(late.find(({ cue_id }) => cue_id === 'hill')).toMatchObject({ n: 4, mean_s: 1.75 });
    expect(late.find(({ cue_id }) => cue_id === 'p2')!.n).toBe(3);
  });

  it('make nothing up from one run or none', () => {
    const one = compareRuns([run(1, [0, 14, 33, 44], 61)]);
    expect(one).toMatchObject({ chance_over: null, drift: null, learning: null, forecast: null, sd_s: null });
    expect(compareRuns([])).toMatchObject({ runs: [], finished: 0, mean_s: null, pace: null, lateness: [] });
    expect(driftOf([600, 590])).toBeNull();
    expect(learningOf([600, 0, 590])).toBeNull();
  });
});

describe('own pace', () => {
  it('is what was said over how long it took, where nothing else can have come between', () => {
    // 42 words from 44 to 62 s: 18 s, that is 140 words a minute. After the first sentence the plan is silent for 15 s: not counted.
    const pace = ownPace([timesOf(run(1, [0, 14, 33, 44], 62))])!;
    expect(pace.rate.words_per_min).toBeCloseTo(140, 9);
    expect(pace).toMatchObject({ runs: 1, pieces: 1, low: null, high: null });
  });

  it('has an interval from run to run, and leaves out what was no speech', () => {
    const pace = ownPace([
      timesOf(run(1, [0, 14, 33, 44], 62)),
      timesOf(run(2, [0, 14, 33, 44], 64)),
      timesOf(run(3, [0, 14, 33, 44], 160)),
    ])!;
    expect(pace.pieces).toBe(2);
    expect(pace.low!).toBeLessThan(1);
    expect(pace.high!).toBeGreaterThan(1);
    expect(ownPace([timesOf(run(1, [0, null, 33, null], 62))])).toBeNull();
  });
});

describe('the document', () => {
  const said = (change: object) => {
    const checked = checkKind('rehearsal', { ...sampleBody('rehearsal'), ...change });
    return checked.ok ? [] : checked.problems.map(({ sentence }) => sentence);
  };
  const clocks = { wall_ms: 1, mono_ms: 1, opened_ms: 1 };

  it('refuses events that speak of nothing, and numbers that do not rise', () => {
    expect(said({ events: [{ what: 'lap', n: 0, at_s: 1, cue_id: 'p9', ...clocks }] })).toEqual([
      'Events, row 1 speaks of "p9", which is not among the cues of this run.',
    ]);
    expect(
      said({
        events: [
          { what: 'mark', n: 2, at_s: 1, ...clocks },
          { what: 'mark', n: 2, at_s: 2, ...clocks },
        ],
      }),
    ).toEqual(['Events, row 2: n is 2; events are numbered upwards, and the one before it is 2.']);
    expect(said({ limit_s: -1 })).toEqual(['Limit is -1 s; it must be at least 0 s.']);
  });
});
