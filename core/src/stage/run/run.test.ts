import { describe, expect, it } from 'vitest';
import type { Talk } from '../../documents/index.ts';
import { sample, sampleBundle } from '../../documents/testing/samples.ts';
import { checkSchedule } from '../timing/check-schedule.ts';
import { cuesOfRun } from './cues.ts';
import { cupAt } from './cups.ts';
import { checkStageJars } from './jars.ts';
import { planRun } from './plan-run.ts';
import { wholeRun } from './run-network.ts';
import { overrunOfRun } from './run-overrun.ts';
import { talkOfRun } from './run-talk.ts';
import { valuesOfRun } from './run-values.ts';
import { reachOrder } from './table.ts';
import { typedRuns } from './timed-runs.ts';

const contest = sample('contest');
const trial = sample('trial');
const planned = (talk: Talk, trials = [trial]) => planRun({ talk, bundle: sampleBundle(), contest, trials });
const talk = sample('talk');
const plan = planned(talk);
const placed = talkOfRun(talk, plan, typedRuns(talk));

describe('a run from its documents', () => {
  it('pours the plan in every brewer, with its waits, stirs, decants and serves, without a clash', () => {
    expect(plan.schedule).toMatchObject({ possible: 'yes', shown: 2 });
    const whole = wholeRun(talk, plan, placed)!;
    expect(checkSchedule(whole.network, whole.starts)).toEqual([]);
    const mine = plan.schedule.actions.filter(({ brewer }) => brewer === 1).map(({ what }) => what);
    expect(mine.filter((what) => what === 'pour')).toHaveLength(sampleBundle().plan.pours.length);
    expect(mine).toEqual(expect.arrayContaining(['swirl', 'decant', 'serve']));
    expect(plan.limit_s).toBe(contest.timers.run_s);
  });

  it('says how hot each cup is served and when it turns, on the clock of the run', () => {
    const { cups } = plan.cups!;
    expect(cups.map(({ brewer }) => brewer)).toEqual([1, 2]);
    for (const cup of cups) {
      const serve = plan.schedule.actions.find((a) => a.brewer === cup.brewer && a.what === 'serve')!;
      expect(cup.served_s).toBeCloseTo(serve.end_s, 6);
      expect(cupAt(cup, cup.served_s)).toBeCloseTo(cup.served_C, 0);
      expect(cup.served_C).toBeGreaterThan(40);
      expect(cup.served_C).toBeLessThan(90);
      if (cup.hot_until_s !== null && cup.warm_until_s !== null)
        expect(cup.warm_until_s).toBeGreaterThanOrEqual(cup.hot_until_s);
    }
    expect(cupAt(cups[0]!, cups[0]!.served_s + 120)).toBeLessThan(cups[0]!.served_C - 1);
  });

  it('gives kettles the temperatures that its pours ask for', () => {
    const asked = new Set(plan.schedule.water!.pours.map(({ asked_C }) => asked_C));
    expect([...asked].sort((a, b) => a - b)).toEqual([70, 95]);
  });

  it('holds the plan against the rules', () => {
    const of = (name: string) => plan.verdicts.find((verdict) => verdict.of === name)?.verdict;
    expect(of('own_water')).toBe('allowed');
    expect(of('bypass_water')).toBe('ask');
    expect(of('cups')).toBe('not_allowed');
  });
});

describe('its talk', () => {
  it('is placed with its numbers spoken, pinned to what the hands do', () => {
    expect(placed.spoken.greeting!.text).toContain('Into each brewer go 14.02 grams');
    const decant = plan.schedule.actions.find(({ brewer, what }) => brewer === 1 && what === 'decant')!;
    const flavour = placed.placed.segments.find(({ id }) => id === 'flavour')!;
    expect(Math.abs(flavour.start_s! - (decant.start_s + 5))).toBeLessThanOrEqual(20);
  });

  it('says which number is true, false, of another brew, or has nothing behind it', () => {
    const predicted = plan.values.filter(({ source }) => source === 'predicted');
    const say = (text: string, trials = [trial]) => {
      const segments = [{ ...talk.segments[0]!, text }];
      const run = { ...talk, segments };
      const values = [...valuesOfRun(run, sampleBundle().plan, trials, null, null), ...predicted];
      return talkOfRun(run, { ...plan, values }, []).spoken.greeting!.values[0]!;
    };
    expect(say('{plan:dose_g}')).toMatchObject({ shown: '14', truth: 'true', source: 'plan' });
    expect(say('{plan:dose_g=15}')).toMatchObject({ shown: '15', truth: 'false', now: 14 });
    expect(say('{peach_found}')).toMatchObject({ shown: '4', truth: 'true', source: 'panel' });
    expect(say('{charm}')).toMatchObject({ truth: 'unknown' });
    expect(say('{measured:strength_pct:2}')).toMatchObject({ shown: '1.52', truth: 'true' });
    const older = { ...trial, plan_then: { ...sample('plan'), dose_g: 15 } };
    expect(say('{measured:strength_pct:2}', [older])).toMatchObject({ truth: 'out_of_date' });
    expect(say('{predicted:bed_max_C:0}').truth).toBe('true');
  });

  it('is nothing to say when it is empty, and says when there is no time at all', () => {
    const empty = talkOfRun({ ...talk, segments: [] }, plan, []);
    expect(empty.placed.remarks.map(({ code }) => code)).toEqual(['talk_empty']);
    const none = { ...talk, limit_s: 0 };
    const run = planned(none);
    expect(run.schedule).toMatchObject({ possible: 'no', largest: 0, actions: [] });
    const said = talkOfRun(none, run, []);
    expect(said.placed.fits).toBe('no');
    expect(wholeRun(none, run, said)).toBeNull();
    for (const { sentence } of [...run.schedule.remarks, ...said.remarks])
      expect(sentence).not.toMatch(/[{}]|NaN|undefined|Infinity/);
  });

  it('is still shown when its pins contradict each other, with the pin that would have to go', () => {
    const zone = { id: 'z', label: '', from_s: 0, to_s: 15 };
    const quiet = { ...talk, silence: { pours: 'none' as const, zones: [zone] } };
    const said = talkOfRun(quiet, plan, []);
    expect(said.placed).toMatchObject({ fits: 'no', ends_s: null });
    expect(said.placed.segments.every(({ start_s }) => start_s !== null)).toBe(true);
    expect(said.remarks.map(({ sentence }) => sentence)).toContain(
      'It can be placed when "Greeting" floats.',
    );
  });

  it('floats when what it is pinned to is not there, and says so', () => {
    const pin = { by: 'action' as const, brewer: 9, what: 'pour' as const, pour: 1, after_s: 0 };
    const lost = { ...talk, segments: [{ ...talk.segments[0]!, pin }] };
    const said = talkOfRun(lost, plan, []);
    expect(said.placed.segments[0]!.start_s).not.toBeNull();
    expect(said.remarks.map(({ code }) => code)).toContain('pin_lost');
  });

  it('finds the own rate in runs that were timed', () => {
    const text = 'one two three four five six seven eight nine ten';
    const segments = [{ ...talk.segments[0]!, text, pin: null }];
    const free = { ...talk, rate: null, segments };
    const said = talkOfRun(free, plan, [{ ended_s: 60, segments: { greeting: 5 } }]);
    expect(said.own_rate).toBe('found');
    expect(said.rate.words_per_min).toBeCloseTo(120, 9);
  });
});

describe('what else hangs on it', () => {
  it('lists every cue once, in the order of its moments, with what the scale then shows', () => {
    const cues = cuesOfRun(talk, plan, placed);
    expect(new Set(cues.map(({ id }) => id)).size).toBe(cues.length);
    expect(cues.map(({ at_s }) => at_s)).toEqual(cues.map(({ at_s }) => at_s).sort((a, b) => a - b));
    const last = cues.filter(({ brewer, what }) => brewer === 2 && what === 'pour').at(-1)!;
    expect(last.scale_g).toBe(sampleBundle().plan.pours.reduce((sum, { water_g }) => sum + water_g, 0));
    expect(cues.filter(({ what }) => what === 'say')).toHaveLength(talk.segments.length);
  });

  it('weighs jars with what the grinder keeps back', () => {
    const list = [
      { id: 'a', name: 'A', brewer: 1, weighed_g: 14.1 },
      { id: 'b', name: 'B', brewer: 2, weighed_g: 15.2 },
      { id: 'c', name: 'C', brewer: null, weighed_g: null },
    ];
    const check = checkStageJars({ ...talk, jars: { ...talk.jars, list } }, 14, 0.1);
    expect(check.jars.map(({ verdict }) => verdict)).toEqual(['right', 'heavy', 'not_weighed']);
    expect(check.remarks.map(({ sentence }) => sentence)).toEqual([
      'Jar B holds 15.2 g: 1.1 g more than the 14.1 g that it should.',
    ]);
    const bare = checkStageJars({ ...talk, jars: { ...talk.jars, list: [] } }, 14, 0.1);
    expect(bare.remarks.map(({ code }) => code)).toEqual(['jar_missing', 'jar_no_spare']);
  });

  it('tells in which order the things on the table are reached for', () => {
    const thing = (id: string, what: Talk['table']['things'][number]['what'], brewer: number | null) => ({
      ...talk.table.things[0]!,
      id,
      what,
      brewer,
    });
    const order = reachOrder(
      [
        thing('cup', 'cup', 1),
        thing('two', 'brewer', 2),
        thing('cloth', 'cloth', null),
        thing('one', 'brewer', 1),
      ],
      plan.schedule.actions,
    );
    expect(order.map(({ thing: { id }, turn }) => [id, turn])).toEqual([
      ['one', 1],
      ['two', 2],
      ['cup', 3],
      ['cloth', null],
    ]);
  });

  it('gives chance and cost of running over from runs, and plays the schedule with their spread', () => {
    const took = [40, 44, 38, 47, 41, 43];
    const runs = [588, 601, 575, 612, 594, 583].map((ended_s, i) => ({
      ended_s,
      segments: { story: took[i]! },
    }));
    const tight = { ...talk, limit_s: 615 };
    const over = overrunOfRun(tight, contest, { ...plan, limit_s: 615 }, placed, runs);
    // Predictive t by hand, design figures: mean 592.167, s 13.197, P(over) 0.08505.
    expect(over.mean_s).toBeCloseTo(592.167, 3);
    expect(over.chance_over).toBeCloseTo(0.08505, 5);
    expect(over.expected!.points).toBeGreaterThan(0);
    expect(over.slips.worst).toBe('story');
    expect(over.imagined!.ends.high).toBeGreaterThanOrEqual(over.imagined!.ends.low);
    expect(overrunOfRun(tight, null, plan, placed, [])).toMatchObject({
      runs: 0,
      chance_over: null,
      expected: null,
      imagined: null,
    });
  });
});
