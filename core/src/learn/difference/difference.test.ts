import { describe, expect, it } from 'vitest';
import { demoBundle } from '../../brew/testing/demo-bundle.ts';
import { diceFrom } from '../chance.ts';
import { blamePours } from './blame.ts';
import { compareBrews } from './compare.ts';
import { detectableDifference } from './detectable.ts';
import { labelPermutations, leastP } from './label-permutations.ts';
import { pourSensitivities } from './pour-sensitivities.ts';
import { powerOfMeans } from './power-of-means.ts';
import { swappedOrder } from './repeat.ts';
import type { ComparedBrew, DifferenceQuestion } from './types.ts';
import { cupsAlike } from './uniformity.ts';

const brews = (
  plan: 'a' | 'b',
  values: readonly number[],
  more: Partial<ComparedBrew> = {},
): ComparedBrew[] => values.map((value) => ({ plan, value, doubt: 0.1, session: null, age_d: 10, ...more }));

const question = (
  list: readonly ComparedBrew[],
  more: Partial<DifferenceQuestion> = {},
): DifferenceQuestion => ({
  brews: list,
  names: ['20 marks', '19 marks'],
  figure: { name: 'yield', unit: '%', decimals: 2 },
  alpha: 0.05,
  history: null,
  limit: null,
  drift: null,
  panel: null,
  dose_g: 16.5,
  seed: 1,
  ...more,
});

const codes = (of: { findings: readonly { code: string }[] }) => of.findings.map(({ code }) => code);

describe('was it the grind? (the worked answer of the scenario)', () => {
  const asked = question(
    [...brews('a', [19.4, 19.9, 19.2], { age_d: 10 }), ...brews('b', [20.1, 19.8, 20.4], { age_d: 12 })],
    { history: { sd: 0.35, brews: null }, panel: { protocol: 'triangle', correct: 4, answers: 4 } },
  );
  const found = compareBrews(asked);
  it('difference 0.60, p about 0.09 from these six brews alone', () => {
    expect(found.difference).toBeCloseTo(0.6, 12);
    expect(found.alone!.df).toBe(4);
    expect(found.alone!.p).toBeCloseTo(0.0911, 4);
  });
  it('just passes the limit of two standard errors, 0.57, with the trusted scatter of 0.35', () => {
    expect(found.history!.limit).toBeCloseTo(0.5715, 4);
    expect(found.history!.p).toBeLessThan(0.05);
    expect(codes(found)).toContain('history_just_passes');
  });
  it('is "maybe", with age confounded', () => {
    expect(found.verdict).toBe('maybe');
    expect(found.confounded).toEqual(['age']);
    expect(found.drift_needed_per_d).toBeCloseTo(0.3, 12);
  });
  it('the panel says different, not better: p = 1/81', () => {
    expect(found.panel!.p).toBeCloseTo(1 / 81, 12);
    expect(found.findings.find(({ code }) => code === 'panel_different')!.sentence).toBe(
      'The panel: 4 of 4 right; by guessing 1 time in 81 (p 0.012). It says different, not better.',
    );
  });
  it('asks for 2 + 2 in one sitting in swapped order, for 66 g', () => {
    expect(found.repeat).toMatchObject({ each: 2, order: ['a', 'b', 'b', 'a'], grams: 66 });
    expect(found.findings.at(-1)!.sentence).toContain(
      'in one sitting, 2 + 2, in the order 20 marks, 19 marks, 19 marks, 20 marks (66 g of coffee)',
    );
  });
  it('says that three and three brews cannot settle it by themselves', () => {
    expect(found.exact).toMatchObject({ p: 0.2, least: 0.1, from: 'all' });
    expect(codes(found)).toContain('test_exact_bounded');
    expect(compareBrews({ ...asked, history: null }).verdict).toBe('cannot');
  });
  it('stays "maybe" while age is confounded, however large the difference', () => {
    const far = asked.brews.map((brew) => (brew.plan === 'b' ? { ...brew, value: brew.value + 5 } : brew));
    expect(compareBrews({ ...asked, brews: far }).verdict).toBe('maybe');
  });
});

describe('differences of two plans', () => {
  it('four against four, all apart, is clear by the exact test alone', () => {
    const found = compareBrews(
      question([...brews('a', [19, 19.2, 19.4, 19.1]), ...brews('b', [20, 20.2, 20.4, 20.1])]),
    );
    expect(found.exact.p).toBeCloseTo(2 / 70, 12);
    expect(found.verdict).toBe('clear');
    expect(found.repeat).toBeNull();
  });
  it('sittings are taken out, so that a shift between days costs nothing', () => {
    const list = [0, 3].flatMap((shift, day) => [
      ...brews(
        'a',
        [19, 19.2, 19.1].map((v) => v + shift),
        { session: `day ${day}` },
      ),
      ...brews(
        'b',
        [19.8, 19.9, 19.7].map((v) => v + shift),
        { session: `day ${day}` },
      ),
    ]);
    const found = compareBrews(question(list));
    expect(found.difference).toBeCloseTo(0.7, 10);
    expect(found.sd).toBeLessThan(0.15);
    expect(found.exact.p).toBeCloseTo(2 / 400, 12);
    expect(found.verdict).toBe('clear');
  });
  it('plans brewed on days of their own are confounded with the day', () => {
    const list = [
      ...brews('a', [19, 19.2, 19.4, 19.1], { session: 'Monday' }),
      ...brews('b', [20, 20.2, 20.4, 20.1], { session: 'Tuesday' }),
    ];
    const found = compareBrews(question(list));
    expect(found.confounded).toEqual(['session']);
    expect(found.verdict).toBe('maybe');
  });
  it('several days of each plan: days are the units, and two against two days can never be clear', () => {
    const list = ['Mon', 'Tue', 'Wed', 'Thu'].flatMap((session, d) =>
      brews(
        d % 2 ? 'b' : 'a',
        [0, 0.1, 0.2].map((v) => 19 + (d % 2) + v + 0.05 * d),
        { session },
      ),
    );
    const found = compareBrews(question(list));
    expect(found.confounded).toEqual([]);
    expect(found.mixed).not.toBeNull();
    expect(found.exact.least).toBeCloseTo(1 / 3, 12);
    expect(found.verdict).not.toBe('clear');
  });
  it('an age that is not tied to the plan is fitted and taken out', () => {
    const list = [0, 1, 2, 3, 4, 5].flatMap((day) => [
      ...brews('a', [19 + 0.3 * day], { age_d: 8 + day }),
      ...brews('b', [19.7 + 0.3 * (day + 0.5) + 0.02 * (day % 2)], { age_d: 8.5 + day }),
    ]);
    const found = compareBrews(question(list));
    expect(found.confounded).toEqual([]);
    expect(codes(found)).toContain('age_taken_out');
    expect(found.difference).toBeCloseTo(0.71, 2);
    expect(found.verdict).toBe('clear');
  });
  it('a known drift is taken out, and its uncertainty counts', () => {
    const list = [
      ...brews('a', [19.4, 19.9, 19.2], { age_d: 10 }),
      ...brews('b', [20.1, 19.8, 20.4], { age_d: 12 }),
    ];
    const history = { sd: 0.35, brews: null };
    const found = compareBrews(question(list, { history, drift: { per_d: 0.1, sd: 0.1 } }));
    expect(found.difference).toBeCloseTo(0.4, 12);
    expect(found.confounded).toEqual([]);
    expect(found.history!.se).toBeCloseTo(Math.hypot(0.35 * Math.sqrt(2 / 3), 0.2), 12);
  });
  it('two plans are the same when both one-sided tests say so, and never from brews too few for it', () => {
    const list = [
      ...brews('a', [19.5, 19.55, 19.45, 19.5, 19.52]),
      ...brews('b', [19.52, 19.5, 19.55, 19.48, 19.5]),
    ];
    const found = compareBrews(question(list, { limit: 0.3 }));
    expect(found.verdict).toBe('same');
    expect(found.same!.high).toBeLessThan(0.3);
    const few = compareBrews(question([...brews('a', [19.5]), ...brews('b', [19.5])], { limit: 5 }));
    expect(few.verdict).toBe('cannot');
    expect(few.alone).toBeNull();
  });
  it('does not lean on a usual scatter that these brews contradict', () => {
    const list = [...brews('a', [18, 20, 22, 19]), ...brews('b', [21, 19, 23, 20.5])];
    const found = compareBrews(question(list, { history: { sd: 0.2, brews: 20 } }));
    expect(codes(found)).toContain('history_does_not_fit');
    expect(found.verdict).not.toBe('clear');
  });
  it('never gives a p below what the counts allow', () => {
    const { normal } = diceFrom(3);
    for (let k = 0; k < 40; k++) {
      const [n, m] = [2 + (k % 3), 2 + (k % 4)];
      const draw = (count: number) => Array.from({ length: count }, normal);
      const groups = [{ a: draw(n), b: draw(m) }];
      expect(labelPermutations(groups, 1).p).toBeGreaterThanOrEqual(leastP([{ a: n, b: m }]) - 1e-12);
    }
  });
  it('the exact test finds nothing in nothing 5 times in 100', () => {
    const { normal } = diceFrom(11);
    const draw = (count: number) => Array.from({ length: count }, normal);
    let found = 0;
    for (let k = 0; k < 600; k++) if (labelPermutations([{ a: draw(5), b: draw(5) }], 1).p <= 0.05) found++;
    // 12 of 252 ways lie at or below 0.05; three standard errors of 600 tries.
    expect(Math.abs(found / 600 - 12 / 252)).toBeLessThan(3 * Math.sqrt((0.0476 * 0.9524) / 600));
  });
});

describe('before brewing', () => {
  it('power of a t test, against R: power.t.test(n = 20, delta = 1, sd = 1)$power 0.8689528 (its help page, from memory)', () => {
    expect(powerOfMeans(1 / Math.sqrt(2 / 20), 38, 0.05)).toBeCloseTo(0.8689528, 6);
  });
  it('three and three brews cannot settle anything alone; four and four can', () => {
    const ask = (each: number) =>
      detectableDifference({
        counts: [each, each],
        history: { sd: 0.35, brews: null },
        alpha: 0.05,
        power: 0.8,
        wanted: 0.6,
        figure: { name: 'yield', unit: '%', decimals: 2 },
        dose_g: 16.5,
      });
    const three = ask(3);
    expect(three.alone).toBeNull();
    expect(codes(three)).toContain('exact_cannot');
    // (1.95996 + 0.84162) · 0.35 · √(2/3)
    expect(three.with_history).toBeCloseTo(0.8006, 4);
    expect(ask(4).alone).toBeGreaterThan(ask(4).with_history);
    const needed = three.needed!.with_history!;
    expect(ask(needed).chance!.with_history).toBeGreaterThanOrEqual(0.8);
    expect(ask(needed - 1).chance!.with_history).toBeLessThan(0.8);
  });
  it('a steady drift cancels in the swapped order of an even number', () => {
    for (const each of [2, 4, 6]) {
      const lever = swappedOrder(each).reduce((t, plan, k) => t + (plan === 'a' ? k : -k), 0);
      expect(lever).toBe(0);
    }
  });
});

describe('three cups', () => {
  it('says how little three cups tell of a hand', () => {
    const { figures, verdict } = cupsAlike([
      {
        name: 'strength',
        unit: '%',
        decimals: 2,
        values: [1.4, 1.42, 1.44],
        doubt: 0,
        history: null,
        limit: null,
      },
    ]);
    expect(verdict).toBe('cannot');
    // χ² on 2 degrees of freedom: −2 ln p.
    expect(figures[0]!.sd_high).toBeCloseTo(0.02 * Math.sqrt(2 / (-2 * Math.log(0.95))), 9);
    expect(figures[0]!.sd_low).toBeCloseTo(0.02 * Math.sqrt(2 / (-2 * Math.log(0.05))), 9);
  });
  it('finds the odd cup against the history of the hand', () => {
    const { figures, findings } = cupsAlike([
      {
        name: 'strength',
        unit: '%',
        decimals: 2,
        values: [1.4, 1.41, 1.48],
        doubt: 0.01,
        history: { sd: 0.015, sets: 8 },
        limit: null,
      },
    ]);
    expect(figures[0]!.odd!.cup).toBe(2);
    expect(findings.map(({ code }) => code)).toEqual(['cups_clear', 'odd_cup']);
  });
  it('does not call cups uneven by less than the measurement', () => {
    const { findings, verdict } = cupsAlike([
      {
        name: 'strength',
        unit: '%',
        decimals: 2,
        values: [1.4, 1.41, null, 1.42],
        doubt: 0.02,
        history: { sd: 0.02, sets: 8 },
        limit: null,
      },
    ]);
    expect(findings.map(({ code }) => code)).toEqual(['cups_measurement']);
    expect(verdict).toBe('not_shown');
  });
});

describe('which pour', () => {
  const sensitivities = pourSensitivities(demoBundle())!;
  const { planned, base, effect } = sensitivities;
  /** Cups as the engine makes them from slips of the second cup, with a shift no pour explains. */
  const blame = (pour: number, water_g: number, elsewhere = 0) =>
    blamePours({
      sensitivities,
      cups: [0, 1, 2].map((c) => ({
        name: `cup ${c + 1}`,
        pours: planned.map((p, i) => ({ ...p, water_g: p.water_g + (c === 1 && i === pour ? water_g : 0) })),
        figures: {
          strength_pct:
            base.strength_pct + (c === 1 ? water_g * effect[pour]!.water_g.strength_pct + elsewhere : 0),
          beverage_g: base.beverage_g + (c === 1 ? water_g * effect[pour]!.water_g.beverage_g : 0),
        },
      })),
      pour_doubt: { water_g: 0.5, start_s: 0.5, duration_s: 0.5 },
      figure_doubt: { strength_pct: 0.01, beverage_g: 0.3 },
      unexplained: { strength_pct: 0.02, beverage_g: 1 },
      seed: 1,
    });
  it('more water of a pour makes the cup weaker and larger', () => {
    for (const of of effect) {
      expect(of.water_g.strength_pct).toBeLessThan(0);
      expect(of.water_g.beverage_g).toBeGreaterThan(0);
      expect(of.water_g.beverage_g).toBeLessThan(1.05);
    }
  });
  it('blames the pour that slipped, and only the cup it was in', () => {
    for (const pour of [0, 2]) {
      const { cups, findings } = blame(pour, 8);
      expect(cups[0]).toMatchObject({ cup: 1, against: [0, 2] });
      expect(cups[0]!.pours[0]).toMatchObject({ pour, slips: { water_g: 8 } });
      expect(cups[0]!.pours[0]!.chance).toBeGreaterThan(0.9);
      expect(cups[0]!.explained).toBeGreaterThan(0.95);
      expect(findings.map(({ code }) => code)).toEqual(['pour_blamed', 'pour_even']);
    }
  });
  it('blames no pour when none slipped', () => {
    const { cups, findings } = blame(0, 0, 0.12);
    expect(cups[0]!.elsewhere).toBeGreaterThan(0.9);
    expect(findings[0]!.code).toBe('pour_none');
  });
  it('chances sum to one', () => {
    for (const cup of blame(1, 4, 0.03).cups)
      expect(cup.pours.reduce((t, { chance }) => t + chance, cup.elsewhere)).toBeCloseTo(1, 9);
  });
});
