import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../panel/random.ts';
import { checkSchedule } from '../timing/check-schedule.ts';
import { endOf } from '../timing/network.ts';
import { findByOrder } from '../timing/order-search.ts';
import { search } from '../timing/search.ts';
import { randomNetwork, shortestByTrying } from '../timing/testing/random-network.ts';
import { brewerNetwork } from './compile.ts';
import { heatingOrder, planHeating } from './heating.ts';
import { type BrewerOrderInput, brewerOrder } from './order.ts';
import { scheduleBrewers } from './schedule.ts';

const five = [1, 2, 3, 4, 5].map(() => ({ water_g: 60, after_s: 40 }));
const asked = (more: Partial<BrewerOrderInput> = {}) =>
  brewerOrder.parse({
    brewers: 3,
    pours: five,
    flow_g_s: 4,
    move_s: 3,
    kettles: [{ fill_g: 900, power_W: 1200 }],
    ...more,
  });
const codes = (schedule: { remarks: readonly { code: string }[] }) =>
  schedule.remarks.map(({ code }) => code);

describe('three brewers, one pair of hands', () => {
  const schedule = scheduleBrewers(asked());

  it('proves that three do not fit and two do: 18 s × 3 = 54 s > 40 s', () => {
    expect(schedule).toMatchObject({ possible: 'no', largest: 2, shown: 2, shortest: true, ends_s: 196 });
    expect(schedule.remarks.map(({ sentence }) => sentence)).toContain(
      '18 s of pouring and moving × 3 brewers = 54 s, more than the 40 s between pours.',
    );
  });

  it('names the nearest that would do: 54 s, 60/(40/3 − 3) = 5.81 g/s, 4 × (40/3 − 3) = 41 g, or a helper', () => {
    expect(schedule.nearest).toMatchObject({
      gaps: { first_s: 54 },
      flow_g_s: 5.81,
      largest_pour_g: 41,
      helper: true,
    });
    expect(60 / (40 / 3 - 3)).toBeLessThanOrEqual(5.81);
    expect(Math.floor(4 * (40 / 3 - 3))).toBe(41);
  });

  it('each of them can indeed be kept, and a little less cannot', () => {
    const fits = (more: Partial<BrewerOrderInput>) => findByOrder(brewerNetwork(asked(more)), 'any').answer;
    const gaps = (after_s: number) => ({ pours: five.map((pour) => ({ ...pour, after_s })) });
    const pours = (water_g: number) => ({ pours: five.map((pour) => ({ ...pour, water_g })) });
    expect([fits(gaps(54)), fits(gaps(53.9))]).toEqual(['some', 'none']);
    expect([fits({ flow_g_s: 5.81 }), fits({ flow_g_s: 5.8 })]).toEqual(['some', 'none']);
    expect([fits(pours(41)), fits(pours(41.5))]).toEqual(['some', 'none']);
  });

  it('says that 900 g are more than the kettle gives, and how hot each pour of the two is', () => {
    const short = schedule.remarks.find(({ code }) => code === 'water_short')!;
    expect(short.values).toEqual({ needed: 900, usable: 850, missing: 50 });
    const spouts = schedule.water!.pours;
    expect(spouts).toHaveLength(10);
    for (const { start_C, end_C } of spouts) {
      expect(end_C).toBeLessThan(start_C);
      expect(start_C).toBeGreaterThan(92);
      expect(start_C).toBeLessThanOrEqual(94);
    }
    expect(spouts.at(-1)!.left_g).toBe(300);
  });

  it('gives the latest first pour: the limit less the whole length', () => {
    expect(schedule.latest_first_pour_s).toBe(600 - 196);
  });

  it('fits three at 5 g/s in 45 s, as the arithmetic of the trade says (15 s × 3 = 45 s)', () => {
    const three = scheduleBrewers(
      asked({ flow_g_s: 5, pours: five.map((pour) => ({ ...pour, after_s: 45 })) }),
    );
    expect(three).toMatchObject({ possible: 'yes', largest: 3, shortest: true });
  });
});

describe('schedules of brewers', () => {
  it('keep waits with a least and a most, drains and decants, checked independently', () => {
    const chance = chanceFrom(5);
    let kept = 0;
    for (let n = 0; n < 60; n++) {
      const order = asked({
        brewers: chance.whole(1, 3),
        pours: Array.from({ length: chance.whole(1, 4) }, () => {
          const min = chance.whole(25, 45);
          return { water_g: chance.whole(20, 70), after_s: { min, max: min + chance.whole(0, 20) } };
        }),
        flow_g_s: chance.whole(4, 7),
        drain_s: chance.whole(10, 40),
        decant: { takes_s: chance.whole(3, 8), within_s: chance.whole(5, 30) },
        hands: chance.whole(1, 2),
      });
      const network = brewerNetwork(order);
      const found = findByOrder(network, 'end', { effort: 500, step: 100 });
      if (!found.starts) continue;
      kept++;
      expect(checkSchedule(network, found.starts)).toEqual([]);
    }
    expect(kept).toBeGreaterThan(20);
  });

  it('answers twelve brewers, a limit of nothing and one endless pour in sentences, with what comes nearest', () => {
    const twelve = scheduleBrewers(asked({ brewers: 12 }));
    expect(twelve).toMatchObject({ possible: 'no', largest: 2 });
    expect(codes(twelve)).toContain('way_fewer');
    const none = scheduleBrewers(asked({ limit_s: 0 }));
    expect(none).toMatchObject({ possible: 'no', largest: 0, actions: [], ends_s: null });
    expect(codes(none)).toEqual(expect.arrayContaining(['brewers_do_not_fit', 'one_pour_too_long']));
    const endless = scheduleBrewers(asked({ brewers: 1, pours: [{ water_g: 2000 }], flow_g_s: 0.2 }));
    expect(endless.possible).toBe('no');
    for (const { sentence } of [...none.remarks, ...endless.remarks])
      expect(sentence).not.toMatch(/[{}]|NaN|undefined|Infinity/);
  });
});

describe('findByOrder', () => {
  it('agrees with the search over moments and with trying every placement, on 200 random networks', () => {
    const chance = chanceFrom(21);
    for (let n = 0; n < 200; n++) {
      const random = randomNetwork(chance, 4);
      const network = { ...random, resources: { hands: 1, voice: 1 } };
      const found = findByOrder(network, 'end');
      const moments = search(network, { what: 'end' });
      const tried = shortestByTrying(network, (starts) => checkSchedule(network, starts).length === 0);
      expect(found.value).toBe(tried);
      expect(moments.value).toBe(tried);
      expect(found.answer).toBe(tried === null ? 'none' : 'best');
      if (found.starts) expect(checkSchedule(network, found.starts)).toEqual([]);
    }
  });

  it('keeps every lag in 500 larger networks, as the independent checker says', () => {
    const chance = chanceFrom(22);
    for (let n = 0; n < 500; n++) {
      const network = { ...randomNetwork(chance, 12), limit: 40 };
      const found = findByOrder(network, 'end');
      if (!found.starts) continue;
      expect(checkSchedule(network, found.starts)).toEqual([]);
      expect(endOf(network, found.starts)).toBe(found.value);
    }
  });
});

describe('planHeating', () => {
  it('heats a litre from 20 to 94 °C with 1,200 W at 88 % in about 4:53 (common practice, first law by hand)', () => {
    const plan = planHeating(
      heatingOrder.parse({
        kettles: [{ name: 'k', water_g: 1000, power_W: 1200, body_equivalent_g: 0, loss_W_K: 0.05 }],
      }),
    );
    expect(plan.kettles[0]!.takes_s!).toBeGreaterThan(292);
    expect(plan.kettles[0]!.takes_s!).toBeLessThan(296);
  });

  it('gives less power at a lower voltage, by its square', () => {
    const at = (mains_V: number) =>
      planHeating(heatingOrder.parse({ mains_V, kettles: [{ name: 'k', water_g: 800, power_W: 1200 }] }))
        .kettles[0]!;
    expect(at(115).power_W).toBeCloseTo(300, 9);
    expect(at(207).takes_s!).toBeGreaterThan(at(230).takes_s!);
  });

  it('lets kettles take turns where a circuit cannot bear both, and not where it can', () => {
    const two = { kettles: ['a', 'b'].map((name) => ({ name, water_g: 500, power_W: 1500 })), within_s: 600 };
    const weak = planHeating(heatingOrder.parse({ ...two, circuits: [{ name: 'wall', limit_A: 10 }] }));
    const strong = planHeating(heatingOrder.parse({ ...two, circuits: [{ name: 'wall', limit_A: 16 }] }));
    expect(weak.ready_s!).toBeCloseTo(2 * strong.ready_s!, 0);
    expect(weak.kettles.map(({ on_s }) => on_s).sort((a, b) => a! - b!)[1]!).toBeGreaterThanOrEqual(
      strong.ready_s! - 1e-3,
    );
    expect(codes(weak)).toContain('circuits_take_turns');
  });

  it('says of a kettle of 100 W how long it takes, of 60 W how hot it ends, and what power it takes', () => {
    const small = (power_W: number) =>
      planHeating(heatingOrder.parse({ kettles: [{ name: 'small', water_g: 900, power_W }] }));
    const slow = small(100);
    expect(slow.remarks[0]!.sentence).toBe('Small needs 235:09.3 to 94 °C with 100 W; it has 5:00.');
    expect(slow.remarks[1]!.sentence).toBe(
      'Small is 94 °C hot within 5:00 with 1250 W or more; or start it hotter, or with less water.',
    );
    const never = small(60);
    expect(never.ready_s).toBeNull();
    // 22 °C + 60 W × 0.88 / 1.2 W/K
    expect(never.remarks[0]!.sentence).toBe(
      'Small never gets 94 °C hot: with 60 W it ends at 66 °C, where it loses what it takes in.',
    );
    expect(codes(never)).toContain('power_needed');
  });
});
