import { describe, expect, it } from 'vitest';
import { sample } from '../../documents/testing/samples.ts';
import { type BoundValue, speakText } from './bound-values.ts';
import { valuesOfPlan, valuesOfTrial } from './gather-values.ts';
import { placeTalk } from './place-talk.ts';
import { DRAFT_RATE, rateFrom, speakingTime, spokenCount } from './speech.ts';
import { talkOrder } from './talk-order.ts';

describe('speech', () => {
  it('counts words, numbers and characters of scripts without spaces', () => {
    expect(spokenCount("It's 94.5 °C, half-way: done.")).toEqual({ words: 5, characters: 0 });
    expect(spokenCount('今天的咖啡 is washed')).toEqual({ words: 2, characters: 5 });
    expect(spokenCount('')).toEqual({ words: 0, characters: 0 });
  });

  // Computed by hand: at 140 words a minute 1,155 words take 8¼ minutes.
  it('takes 8¼ minutes for 1,155 words at 140 words a minute', () => {
    const text = Array.from({ length: 1155 }, () => 'word').join(' ');
    expect(speakingTime(text, DRAFT_RATE)).toBeCloseTo(8.25 * 60, 9);
  });

  it('learns the own rate from what was spoken', () => {
    const text = Array.from({ length: 150 }, () => 'word').join(' ');
    expect(rateFrom([{ text, took_s: 60 }])!.words_per_min).toBeCloseTo(150, 9);
    expect(rateFrom([])).toBeNull();
  });
});

describe('placeTalk', () => {
  const order = (more: object) =>
    talkOrder.parse({
      segments: [
        { id: 'a', takes_s: 10, at_s: 0 },
        { id: 'b', takes_s: 15, may_be_cut: true, points: 1 },
        { id: 'c', takes_s: 8, may_be_cut: true, points: 0.2 },
        { id: 'd', takes_s: 12 },
      ],
      silent: [
        { from_s: 12, to_s: 20 },
        { from_s: 18, to_s: 30 },
      ],
      limit_s: 70,
      ...more,
    });

  it('speaks around silences, in order', () => {
    const talk = placeTalk(order({}));
    expect(talk).toMatchObject({ fits: 'yes', ends_s: 65, reserve_s: 5, needed_cuts: [] });
    expect(talk.segments.map(({ start_s }) => start_s)).toEqual([0, 30, 45, 53]);
  });

  it('names what to cut, the cheapest for a second first, and what that saves', () => {
    const talk = placeTalk(order({ limit_s: 58 }));
    expect(talk).toMatchObject({ fits: 'no', ends_s: 65, reserve_s: -7, needed_cuts: ['c'] });
    expect(talk.cuts.map(({ id }) => id)).toEqual(['c', 'b']);
    expect(talk.remarks.map(({ code }) => code)).toEqual(['talk_too_long', 'cuts_needed']);
  });

  it('says when even all cuts are not enough, when pins contradict, and when there is nothing to say', () => {
    expect(placeTalk(order({ limit_s: 15 })).needed_cuts).toBeNull();
    const pinned = placeTalk(
      talkOrder.parse({
        segments: [
          { id: 'a', takes_s: 10, at_s: 5 },
          { id: 'b', takes_s: 5, at_s: 8 },
        ],
      }),
    );
    expect(pinned.remarks[0]!.code).toBe('talk_pins');
    expect(placeTalk(talkOrder.parse({ segments: [] })).remarks[0]!.code).toBe('talk_empty');
    const nothing = placeTalk(talkOrder.parse({ segments: [{ id: 'a', takes_s: 10 }], limit_s: 0 }));
    expect(nothing).toMatchObject({ fits: 'no', reserve_s: -10, needed_cuts: null });
  });
});

describe('bound values', () => {
  const value = (more: Partial<BoundValue>): BoundValue => ({
    name: 'bed_max_C',
    source: 'predicted',
    value: 70.4,
    unit: '°C',
    spread: null,
    from: 'prediction of the plan',
    current: true,
    ...more,
  });
  const one = (text: string, values: BoundValue[]) => speakText(text, values).values[0]!;

  it('follow their source, best first: measured before predicted', () => {
    const spoken = speakText('From {bed_min_C:0} to {bed_max_C:0} °C.', [
      value({}),
      value({ source: 'measured', value: 68.6, from: 'trial of 4 March' }),
      value({ name: 'bed_min_C', value: 35.2 }),
    ]);
    expect(spoken.text).toBe('From 35 to 69 °C.');
    expect(spoken.values[1]).toMatchObject({
      source: 'measured',
      from: 'trial of 4 March',
      truth: 'true',
      also: [{ source: 'predicted', value: 70.4 }],
    });
    expect(spoken.values[0]).toMatchObject({ source: 'predicted', truth: 'true' });
  });

  it('are flagged when what is said is no longer true, covered by doubt, out of date or without anything behind it', () => {
    expect(one('{bed_max_C=70}', [value({})])).toMatchObject({ shown: '70', truth: 'true' });
    expect(one('{bed_max_C=70}', [value({ value: 73 })]).truth).toBe('false');
    expect(one('{bed_max_C=70}', [value({ value: 73, spread: 2 })]).truth).toBe('within_spread');
    expect(one('{bed_max_C=70}', [value({ current: false })]).truth).toBe('out_of_date');
    expect(one('{measured:bed_max_C=70}', [value({})])).toMatchObject({ truth: 'unknown', shown: '70' });
    expect(one('{age_d}', [])).toMatchObject({ truth: 'unknown', shown: '…' });
  });

  it('are true as they show themselves, whatever the number', () => {
    for (const v of [0, -3.25, 1234.567, 15.04, 1e-3, 99_999]) {
      expect(one('{x}', [value({ name: 'x', value: v })]).truth).toBe('true');
      expect(one('{x:2}', [value({ name: 'x', value: v })]).truth).toBe('true');
    }
  });

  it('leave plain digits to be looked at', () => {
    expect(
      speakText('Grown at 1,850 m, dose {dose_g}.', [value({ name: 'dose_g', value: 15 })]).loose,
    ).toEqual(['1,850']);
  });

  it('come from plans and trials; a trial of a plan that has changed is out of date', () => {
    const plan = valuesOfPlan(sample('plan'));
    const text = '{dose_g} g and {plan:water_g} g of water give {strength_pct:2} %, that is {yield_pct:1} %.';
    const spoken = speakText(text, [...plan, ...valuesOfTrial(sample('trial'), true)]);
    // (1.52 + 1.53) / 2 = 1.525 %; × 163 g / 14.02 g = 17.73 %
    expect(spoken.text).toMatch(/^14\.02 g and 200 g of water give 1\.5[23] %, that is 17\.7 %\.$/);
    expect(spoken.values[0]!.also).toEqual([{ source: 'plan', value: 14 }]);
    const stale = speakText(text, [...plan, ...valuesOfTrial(sample('trial'), false)]);
    expect(stale.values[2]!.truth).toBe('out_of_date');
  });
});
