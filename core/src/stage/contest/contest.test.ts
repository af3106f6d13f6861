import { describe, expect, it } from 'vitest';
import type { Contest, OvertimePenalty } from '../../documents/index.ts';
import { checkKind } from '../../documents/registry.ts';
import { CONTEST_ID, sample, sampleBundle } from '../../documents/testing/samples.ts';
import { normalCdf } from '../../panel/distributions.ts';
import { EXAMPLE_CONTEST } from '../example-contest.ts';
import { checkRules, factsOfPlan } from './check-rules.ts';
import { markPrices, totalOfMarks } from './marks.ts';
import { expectedPenalty, penaltyFor } from './overtime.ts';
import { priceChoices } from './price.ts';

const contest = sample('contest');
const rule = (more: Partial<OvertimePenalty> = {}): OvertimePenalty => ({
  grace_s: 0,
  points: 1,
  every_s: 1,
  counts: 'begun',
  cap_points: null,
  hard_stop_s: null,
  ...more,
});

describe('points of marks', () => {
  const prices = markPrices(contest);
  if (!prices.ok) throw new Error('the sample can be priced');
  const by = (id: string) => prices.value.find(({ category }) => category.id === id)!;

  // Sum over three judges ÷ 3 × 1.4, plus the head judge, ÷ 1.6: prices quoted from memory, each worked by hand here.
  it('are 0.44 for half a mark from all judges, 0.88 in a doubled category, 0.31 from the head judge', () => {
    expect(0.5 * by('flavour').all).toBeCloseTo(0.4375, 12);
    expect(0.5 * by('description').all).toBeCloseTo(0.875, 12);
    expect(0.5 * by('flow').all).toBeCloseTo(0.3125, 12);
    expect(by('flavour').one).toBeCloseTo(by('flavour').all / 3, 12);
  });

  it('add up to the total, and a mark off its scale or steps is said', () => {
    const total = totalOfMarks(contest, { flavour: [7, 7.5, 8], description: [6, 6, 6], flow: [8] });
    expect(total).toEqual({ ok: true, value: expect.closeTo(((22.5 / 3 + 2 * 6) * 1.4 + 8) / 1.6, 9) });
    const bad = totalOfMarks(contest, { flavour: [7, 7.3, 11], description: [6, 6], flow: [8] });
    expect(bad.ok ? [] : bad.problems.map(({ sentence }) => sentence)).toEqual([
      'Marks: Flavour, row 2 is 7.3; marks go in steps of 0.5 from 0.',
      'Marks: Flavour, row 3 is 11; it must be at most 10.',
      'Marks: Description has 2 entries; it needs at least 3.',
    ]);
  });

  it('cannot be told without a formula or judges', () => {
    const unknown = markPrices({ ...contest, combination: null, judges: null });
    expect(unknown.ok ? [] : unknown.problems.map(({ path }) => path.join('.'))).toEqual([
      'combination',
      'judges',
    ]);
  });
});

describe('running over', () => {
  it('counts begun or whole steps or in proportion, after grace, up to a cap, until the hard stop', () => {
    expect(penaltyFor(rule(), 0)).toEqual({ points: 0, disqualified: false });
    expect(penaltyFor(rule(), 2.1).points).toBe(3);
    expect(penaltyFor(rule({ counts: 'whole' }), 2.9).points).toBe(2);
    expect(penaltyFor(rule({ counts: 'in_proportion', points: 2, every_s: 5 }), 4).points).toBeCloseTo(
      1.6,
      12,
    );
    expect(penaltyFor(rule({ grace_s: 5 }), 4.9).points).toBe(0);
    expect(penaltyFor(rule({ cap_points: 10 }), 40).points).toBe(10);
    expect(penaltyFor(rule({ hard_stop_s: 60 }), 60).disqualified).toBe(false);
    expect(penaltyFor(rule({ hard_stop_s: 60 }), 60.1).disqualified).toBe(true);
  });

  it('has the expectation that adding up finely gives', () => {
    const mean = 3;
    const sd = 8;
    const above = (x: number) => normalCdf((mean - x) / sd);
    for (const more of [
      {},
      { counts: 'whole' as const },
      { counts: 'in_proportion' as const },
      { grace_s: 4, cap_points: 7.5, points: 2, every_s: 3 },
    ]) {
      const r = rule(more);
      let sum = 0;
      for (let x = 0.0005; x < 120; x += 0.001)
        sum += penaltyFor(r, x).points * (above(x - 0.0005) - above(x + 0.0005));
      expect(expectedPenalty(r, above).points).toBeCloseTo(sum, 2);
    }
  });
});

describe('priceChoices', () => {
  it('sets marks against seconds: one second over can cost more than half a mark in a doubled category', () => {
    const priced = priceChoices(contest, [
      {
        name: 'longer story',
        marks: [{ category_id: 'description', by: 0.5, sd: 0.5, judges: null }],
        run: { mean_s: 601, sd_s: 0 },
      },
      { name: 'short', marks: [], run: { mean_s: 590, sd_s: 0 } },
    ]);
    if (!priced.ok) throw new Error('priced');
    expect(priced.value.map(({ name }) => name)).toEqual(['short', 'longer story']);
    expect(priced.value[1]).toMatchObject({
      from_marks: expect.closeTo(0.875, 9),
      from_time: -1,
      sd: expect.closeTo(0.875, 9),
    });
  });

  it('names a category that is not there', () => {
    const priced = priceChoices(contest, [
      { name: 'x', marks: [{ category_id: 'charm', by: 1, sd: 0, judges: null }], run: null },
    ]);
    expect(priced.ok ? '' : priced.problems[0]!.sentence).toContain('"charm"');
  });
});

describe('checkRules', () => {
  const verdicts = (more: Partial<Contest>, facts = {}) =>
    Object.fromEntries(
      checkRules({ ...contest, ...more }, { ...factsOfPlan(sampleBundle()), ...facts }).map((v) => [
        v.of,
        v.verdict,
      ]),
    );

  it('reads what a plan does, and asks what the rules do not say', () => {
    const found = verdicts({});
    expect(found).toMatchObject({
      bypass_water: 'ask',
      chilling: 'ask',
      cups: 'not_allowed',
      'power_W.max': 'ask',
    });
  });

  it('says allowed, not allowed or ask, and never guesses', () => {
    const facts = {
      uses: ['own_water', 'grinding_in_setup', 'device_on_stage'],
      cups: 3,
      run_s: 601,
      cup_mL: 119,
      individually_brewed: false,
    };
    expect(verdicts({}, facts)).toMatchObject({
      own_water: 'allowed',
      grinding_in_setup: 'not_allowed',
      device_on_stage: 'ask',
      cups: 'allowed',
      'run_s.max': 'not_allowed',
      'cup_mL.min': 'not_allowed',
      'cup_mL.max': 'allowed',
      individually_brewed: 'not_allowed',
    });
    expect(verdicts({ penalty: null, timers: { ...contest.timers, run_s: null } }, facts)).toMatchObject({
      penalty: 'ask',
      'run_s.max': 'ask',
    });
    expect(verdicts({}, { changes_after_setup: ['grind', 'table'] })).toMatchObject({
      'after_setup.grind': 'not_allowed',
      'after_setup.table': 'allowed',
    });
    expect(verdicts({ frozen_after_setup: [] }, { changes_after_setup: ['grind'] })).toMatchObject({
      'after_setup.grind': 'ask',
    });
  });
});

describe('the example contest', () => {
  it('is a valid document of its own', () => {
    const checked = checkKind('contest', EXAMPLE_CONTEST);
    expect(checked.ok).toBe(true);
    expect(checked.ok && checked.value.id).not.toBe(CONTEST_ID);
  });
});
