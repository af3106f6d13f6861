import { describe, expect, it } from 'vitest';
import { checkKind } from '../../documents/registry.ts';
import { sampleBody } from '../../documents/testing/samples.ts';
import { chanceFrom } from '../random.ts';
import { checkBalance } from '../serving-order.ts';
import { CODE_COUNT } from '../serving-plan.ts';
import type { AnswerRequest } from './api.ts';
import { findingsBefore } from './before.ts';
import { admissionProblems, sipOf } from './care.ts';
import { checkAnswer } from './check-answer.ts';
import { clockOffset } from './clock.ts';
import { pourSheetOf, runOf } from './close-session.ts';
import { cupCooling, flightWindows, lastAt } from './cup-course.ts';
import { makeJoinCode, sameName, tidyCode } from './join-code.ts';
import { countingAnswers, givenAt, type Logged, type SessionEvent, statusOf } from './log.ts';
import { planSession } from './plan-session.ts';
import type { SessionDesign, SessionPlan } from './plan-types.ts';
import { sessionProblem, sessionSentences } from './sentences.ts';
import { everyDesign, makeDesign, rightLooking } from './testing/designs.ts';
import { tasterSheet } from './views.ts';

const plan = (design: SessionDesign, codes = 1, orders = 2): SessionPlan => {
  const made = planSession(design, { codes: chanceFrom(codes), orders: chanceFrom(orders) });
  if (!made.ok) throw new Error(made.problems.map((p) => p.sentence).join(' '));
  return made.value;
};
const samplesOf = (p: SessionPlan) => p.sets.map((s) => s.cups.map((c) => c.sample_id).join(''));

describe.each(everyDesign())('a session of %s', (_, design) => {
  it('gives every cup a code of its own, plain three digits, and every seat the same number of sets', () => {
    const made = plan(design);
    const codes = made.sets.flatMap((s) => s.cups.map((c) => c.code));
    expect(new Set(codes).size).toBe(codes.length);
    for (const code of codes) expect(code).toMatch(/^[1-9]\d\d$/);
    const seats = design.seats + design.spare_seats;
    const counts = Array.from({ length: seats }, (_, i) => made.sets.filter((s) => s.seat === i + 1));
    for (const sets of counts) {
      expect(sets.length).toBe(counts[0]!.length);
      expect(sets.map((s) => s.set)).toEqual(sets.map((_, i) => i + 1));
    }
  });

  it('deals codes by place alone: another order of the cups changes no code and no sheet', () => {
    const [one, other] = [plan(design, 7, 1), plan(design, 7, 2)];
    expect(samplesOf(one)).not.toEqual(samplesOf(other));
    const status = statusOf([]);
    const of = { session_id: 's', seat: 2, care: CARE, now: 5 };
    expect(tasterSheet(design, one, status, of)).toEqual(tasterSheet(design, other, status, of));
  });

  it('tells a taster nothing of what is in the cups until it is closed', () => {
    const made = plan(design);
    const text = JSON.stringify(tasterSheet(design, made, statusOf(seated(2)), SHEET));
    for (const { id, name } of design.samples) {
      expect(text).not.toContain(name);
      expect(text).not.toContain(`"${id}"`);
    }
    const told = JSON.stringify(
      tasterSheet(design, made, statusOf([...seated(2), log({ type: 'closed' })]), SHEET),
    );
    expect(told).toContain(design.samples[0]!.name);
  });

  it('takes an answer that fits each set and refuses what does not, with a sentence', () => {
    const made = plan(design);
    const sets = made.sets.filter((s) => s.seat === 1);
    for (const set of sets) {
      for (const request of rightLooking(design, set)) {
        expect(checkAnswer(design, sets, request)).toEqual([]);
        const elsewhere = checkAnswer(design, sets, { ...request, set: 399 });
        expect(elsewhere.map((p) => p.code)).toEqual(['no_such_set']);
        const window_id = request.window_id === null ? 'hot' : null;
        expect(checkAnswer(design, sets, { ...request, window_id }).map((p) => p.code)).toEqual([
          'window_not_here',
        ]);
        const code = request.code === null ? '999' : null;
        expect(checkAnswer(design, sets, { ...request, code }).length).toBeGreaterThan(0);
      }
    }
  });

  it('closes into a run that passes as a document', () => {
    const made = plan(design);
    const own = made.sets.filter((s) => s.seat === 1);
    const events: SessionEvent[] = [
      { type: 'started' },
      { type: 'poured', flight: 1, poured_at: 1_000_000 },
      ...own
        .flatMap((set) => rightLooking(design, set))
        .map((request) => ({ type: 'answered' as const, seat: 1, request })),
      { type: 'closed' },
    ];
    const run = runOf(design, made, statusOf([...seated(1), ...events.map(log)]), 900_000);
    const checked = checkKind('tasting', { ...design, run });
    expect(checked.ok ? [] : checked.problems.map((p) => p.sentence)).toEqual([]);
    expect(run.answers.every((a) => a.counts)).toBe(true);
    expect(new Set(run.sets.map((s) => s.seat))).toEqual(new Set([1]));
  });

  it('says before pouring what it can and cannot show', () => {
    const before = findingsBefore(design);
    expect(before.length).toBeGreaterThan(0);
    for (const { sentence } of before) expect(sentence).not.toMatch(/[{}]/);
  });
});

describe('orders', () => {
  it('every order of a test of difference comes equally often at each window, within one', () => {
    const design = makeDesign({ method: { test: 'triangle' }, seats: 8, spare_seats: 0, repeats: 3 });
    const made = plan(design);
    for (const window of ['hot', 'warm']) {
      const rows = made.sets.filter((s) => s.window_id === window);
      const counts = new Map<string, number>();
      for (const set of rows) {
        const key = set.cups.map((c) => c.sample_id).join('');
        counts.set(key, (counts.get(key) ?? 0) + 1);
        const odd = set.cups.filter((c) => set.cups.filter((o) => o.sample_id === c.sample_id).length === 1);
        expect(set.right).toEqual(odd.map((c) => c.code));
      }
      expect([...counts.values()].sort()).toEqual([4, 4, 4, 4, 4, 4]);
    }
  });

  it('cups of a profile stand in a Williams design over the expected seats', () => {
    const samples = ['a', 'b', 'c', 'd'].map((id) => ({ id, name: `Kind ${id}` }));
    const design = makeDesign({
      method: { test: 'check_all', words: WORDS },
      samples,
      seats: 8,
      spare_seats: 0,
      repeats: 1,
    });
    const rows = plan(design).sets.map((s) =>
      s.cups.map((c) => samples.findIndex(({ id }) => id === c.sample_id)),
    );
    expect(checkBalance(rows).faults).toEqual([]);
  });

  it('hidden repeats come once more under another code, and the stronger sample is the single one', () => {
    const hidden = makeDesign({
      method: { test: 'check_all', words: WORDS },
      hidden_repeats: ['b'],
      repeats: 1,
    });
    for (const set of plan(hidden).sets)
      expect(
        set.cups
          .map((c) => c.sample_id)
          .sort()
          .join(''),
      ).toBe('abb');
    const afc = makeDesign({ method: { test: 'three_afc', attribute: 'sweetness', stronger_id: 'b' } });
    for (const set of plan(afc).sets) {
      expect(
        set.cups
          .map((c) => c.sample_id)
          .sort()
          .join(''),
      ).toBe('aab');
      expect(set.cups.find((c) => c.sample_id === 'b')?.code).toBe(set.right[0]);
    }
  });

  it('the pour sheet holds every cup once, sample by sample', () => {
    const design = makeDesign({ method: { test: 'tetrad' } });
    const made = plan(design);
    const lines = pourSheetOf(design, made, new Map([[1, { name: 'Ines' }]]));
    const cups = lines.flatMap((line) => line.cups.map((c) => `${c.code} ${line.sample_id}`));
    expect(cups.sort()).toEqual(
      made.sets.flatMap((s) => s.cups.map((c) => `${c.code} ${c.sample_id}`)).sort(),
    );
    expect(
      lines
        .flatMap((l) => l.cups)
        .filter((c) => c.taster === 'Ines')
        .every((c) => c.seat === 1),
    ).toBe(true);
  });

  it.each([
    [{ seats: 100, repeats: 5 }, 'codes_run_out'],
    [{ title: 'Is the STEPPED grind sweeter?' }, 'title_tells'],
    [{ hidden_repeats: ['a'] }, 'no_hidden_here'],
    [{ cups_each: 2 }, 'no_partial_here'],
  ])('a design with %j is refused: %s', (change, code) => {
    const design = makeDesign({ method: { test: 'triangle' }, ...change });
    const made = planSession(design, { codes: chanceFrom(1), orders: chanceFrom(2) });
    expect(made.ok ? [] : made.problems.map((p) => p.code)).toContain(code);
  });
});

describe('windows', () => {
  const design = makeDesign({ method: { test: 'triangle' } });
  it('open and close as the cup cools, later in a hotter cup', () => {
    const [hot, warm] = flightWindows(design, 1, 1_000, []).windows;
    expect(hot!.opens_at).toBeGreaterThan(1_000);
    expect(hot!.closes_at).toBeGreaterThan(hot!.opens_at!);
    expect(warm!.opens_at).toBeGreaterThan(hot!.closes_at!);
    const hotter = flightWindows({ ...design, cooling: { ...design.cooling, poured_C: 90 } }, 1, 1_000, []);
    expect(hotter.windows[0]!.opens_at).toBeGreaterThan(hot!.opens_at!);
  });
  it('go on from a temperature that was read off a cup', () => {
    const course = cupCooling(design.cooling);
    const at60 = lastAt(course, 60)!;
    const read = [{ at: 1_000 + at60 * 1000, temperature_C: 66 }];
    const [hot] = flightWindows(design, 1, 1_000, read).windows;
    expect(hot!.opens_at).toBeGreaterThan(1_000 + at60 * 1000);
    // Read as the model has it, nothing moves.
    const same = flightWindows(design, 1, 1_000, [{ at: 61_000, temperature_C: at(course, 60) }]);
    const plain = flightWindows(design, 1, 1_000, []);
    expect(Math.abs(same.windows[1]!.opens_at! - plain.windows[1]!.opens_at!)).toBeLessThan(2_000);
  });
  it('of a cup that was poured colder than the window never open', () => {
    const cold = { ...design, cooling: { ...design.cooling, poured_C: 45, cup_C: 45 } };
    expect(flightWindows(cold, 1, 0, []).windows[0]).toEqual({
      window_id: 'hot',
      opens_at: null,
      closes_at: null,
    });
  });
  it('are unknown until the cups are poured', () => {
    expect(flightWindows(design, 1, null, [])).toEqual({ flight: 1, poured_at: null, windows: [] });
  });
});

/** Temperature of a course at a moment [s], between its points. */
function at({ time, temperature_C }: ReturnType<typeof cupCooling>, s: number): number {
  const i = time.findIndex((t) => t >= s);
  const share = (s - time[i - 1]!) / (time[i]! - time[i - 1]!);
  return temperature_C[i - 1]! + share * (temperature_C[i]! - temperature_C[i - 1]!);
}

describe('clocks', () => {
  it('are set by the exchange with the shortest way', () => {
    const exchanges = [
      { sent: 1_000, received: 1_900, server: 5_000 },
      { sent: 2_000, received: 2_040, server: 6_020 },
    ];
    expect(clockOffset(exchanges)).toEqual({ offset_ms: 4_000, doubt_ms: 20 });
    expect(clockOffset([])).toBeNull();
  });
  it('a wrong one moves an answer neither before joining nor after it came', () => {
    const taken = (device_at: string, offset_ms: number | null) => ({
      seat: 1,
      received_at: 2_000_000,
      late: false,
      request: { ...rightLooking(DESIGN, plan(DESIGN).sets[0]!)[0]!, device_at, offset_ms },
    });
    expect(givenAt(taken('1970-01-01T00:30:00Z', 0), 1_000_000)).toBe(1_800_000);
    expect(givenAt(taken('1970-01-01T00:10:00Z', 1_200_000), 1_000_000)).toBe(1_800_000);
    expect(givenAt(taken('2100-01-01T00:00:00Z', 0), 1_000_000)).toBe(2_000_000);
    expect(givenAt(taken('1970-01-01T00:00:01Z', 0), 1_000_000)).toBe(1_000_000);
    expect(givenAt(taken('1970-01-01T00:00:01Z', null), 1_000_000)).toBe(2_000_000);
  });
});

describe('a log', () => {
  it('keeps the last answer about the same cups, and none that came after closing', () => {
    const set = plan(DESIGN).sets[0]!;
    const [request] = rightLooking(DESIGN, set) as [AnswerRequest];
    const status = statusOf(
      [
        ...seated(1),
        { type: 'answered' as const, seat: 1, request },
        { type: 'answered' as const, seat: 1, request: { ...request, offset_ms: 40 } },
        { type: 'closed' as const },
        { type: 'answered' as const, seat: 1, request },
      ].map((e, i) => ({ ...log(e), seq: i })),
    );
    expect(countingAnswers(status.answers)).toEqual([false, true, false]);
    expect(status.answers.map((a) => a.late)).toEqual([false, false, true]);
    expect(status.tasters.get(1)?.offset_ms).toBe(40);
  });
});

describe('care', () => {
  const design = makeDesign({
    method: { test: 'triangle' },
    samples: [
      { id: 'a', name: 'Stepped grind', may_carry: ['Milk'], dose_g: 20, brew_mL: 200 },
      { id: 'b', name: 'Plain grind', may_carry: [], dose_g: 12, brew_mL: 200 },
    ],
  });
  it('refuses minors, and who keeps away from anything served, without naming a sample', () => {
    expect(admissionProblems(design, { ...CARE, adult: false }).map((p) => p.code)).toEqual(['minor']);
    const [problem] = admissionProblems(design, { ...CARE, allergens: [' milk '] });
    expect(problem?.sentence).toContain('may carry milk');
    for (const { name } of design.samples) expect(problem?.sentence).not.toContain(name);
    expect(admissionProblems(design, CARE)).toEqual([]);
  });
  it('counts every sip as of the strongest sample', () => {
    // 20 g, 12 mg/g, 15 of 200 mL.
    expect(sipOf(design).high).toBeCloseTo((20 * 12 * 15) / 200, 12);
  });
});

describe('join codes', () => {
  it('are six characters that cannot be mistaken, and read as typed', () => {
    const chance = chanceFrom(3);
    for (let i = 0; i < 200; i++) expect(makeJoinCode(chance)).toMatch(/^[2-9BCDFGHJKMNPQRSTVWXZ]{6}$/);
    expect(tidyCode(' bcd-4 7k')).toBe('BCD47K');
  });
  it('names are the same without capitals, accents and spaces', () => {
    expect(sameName('  Zoë  K ')).toBe(sameName('zoe k'));
    expect(sameName('Kei')).not.toBe(sameName('Kei B'));
  });
});

describe('nothing is promised that cannot be kept', () => {
  it.each([
    [{ method: { test: 'triangle' }, seats: 2, repeats: 1 }, 'difference_cannot_reach'],
    [
      { method: { test: 'a_not_a', known_id: 'a', each: 1 }, seats: 2, repeats: 1 },
      'difference_cannot_reach',
    ],
    [{ method: { test: 'check_all', words: [] }, seats: 3, repeats: 1 }, 'ranking_cannot_reach'],
    [{ method: { test: 'ranking', attribute: 'body' }, seats: 3, repeats: 1 }, 'ranking_cannot_reach'],
    [{ method: { test: 'check_all', words: [] }, seats: 1, repeats: 1 }, 'panel_too_small'],
  ])('%j: %s', (change, code) => {
    const design = makeDesign({
      ...change,
      method: change.method.test === 'check_all' ? { test: 'check_all', words: WORDS } : change.method,
    });
    const [first] = findingsBefore(design);
    expect([first?.firmness, first?.code]).toEqual(['cannot', code]);
  });
});

it('every sentence can be filled', () => {
  for (const code of Object.keys(sessionSentences)) {
    const names = [...sessionSentences[code]!.matchAll(/\{(\w+)\}/g)].map((m) => m[1]!);
    const { sentence } = sessionProblem(['x'], code, Object.fromEntries(names.map((n) => [n, 'y'])));
    expect(sentence).toMatch(/^[A-Z].*\.$/);
    expect(sentence).not.toMatch(/[{}]/);
  }
});

it('has enough codes for eight tasters and three temperatures', () => {
  const design = makeDesign({ method: { test: 'tetrad' }, seats: 8, spare_seats: 2, repeats: 2 });
  expect(plan(design).sets.flatMap((s) => s.cups).length).toBeLessThanOrEqual(CODE_COUNT);
});

const WORDS = [
  { id: 'w1', word: 'citrus' },
  { id: 'w2', word: 'honey' },
];
const CARE = {
  adult: true,
  pregnant_or_lactating: false,
  allergens: [],
  flags: [],
  taken_today_mg: 0,
  spits: true,
};
const SHEET = { session_id: 's', seat: 2, care: CARE, now: 2_000_000 };
const DESIGN = makeDesign({ method: { test: 'triangle' } });
let seq = 0;
function log(event: SessionEvent): Logged {
  seq++;
  return { ...event, seq, at: 1_000_000 + seq, event_id: null };
}
function seated(seat: number): Logged[] {
  return [log({ type: 'joined', seat, name: 'Ines' })];
}
// The sample of the documents is one such design; it must be runnable as it stands.
it('the sample document can be run', () => {
  const checked = checkKind('tasting', sampleBody('tasting'));
  if (!checked.ok) throw new Error('the sample does not pass');
  const { run: _, ...design } = checked.value;
  expect(plan(design).sets.length).toBe((5 + 2) * 2 * 2);
});
