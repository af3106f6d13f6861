import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../panel/random.ts';
import { checkSchedule } from '../timing/check-schedule.ts';
import { findByOrder } from '../timing/order-search.ts';
import { brewerNetwork, orderedNetwork } from './compile.ts';
import { largestNumber } from './nearest.ts';
import { type BrewerOrderInput, brewerOrder } from './order.ts';
import { scheduleBrewers } from './schedule.ts';

const asked = (more: Partial<BrewerOrderInput> = {}) =>
  brewerOrder.parse({
    brewers: 2,
    pours: [1, 2, 3].map(() => ({ water_g: 50, after_s: 45 })),
    flow_g_s: 5,
    move_s: 3,
    drain_s: 30,
    kettles: [{ fill_g: 900, power_W: 1200 }],
    ...more,
  });

describe('stirs, decants and serves', () => {
  it('take the hands, in 200 random runs that the independent checker looks at', () => {
    const chance = chanceFrom(31);
    let kept = 0;
    for (let n = 0; n < 200; n++) {
      const order = asked({
        brewers: chance.whole(1, 3),
        pours: Array.from({ length: chance.whole(1, 3) }, () => ({
          water_g: chance.whole(20, 60),
          flow_g_s: chance.whole(3, 8),
          after_s: { min: 40, max: 40 + chance.whole(0, 25) },
        })),
        actions: [{ what: 'swirl', pour: 1, after_s: chance.whole(8, 20), takes_s: 3, give_s: 10 }],
        decant: { takes_s: 6, within_s: 40 },
        serve: { takes_s: 10, within_s: 60 },
        scales: chance.whole(1, 3),
        alongside: false,
      });
      const network = brewerNetwork(order);
      const found = findByOrder(network, 'end', { effort: 200, step: 100 });
      if (!found.starts) continue;
      kept++;
      expect(checkSchedule(network, found.starts)).toEqual([]);
    }
    expect(kept).toBeGreaterThan(120);
  });

  it('come in their order: drained, decanted, served', () => {
    const { actions } = scheduleBrewers(
      asked({ decant: { takes_s: 6, within_s: 30 }, serve: { takes_s: 10, within_s: 30 } }),
    );
    for (const brewer of [1, 2]) {
      const of = (what: string) => actions.find((a) => a.brewer === brewer && a.what === what)!;
      const last = actions.findLast((a) => a.brewer === brewer && a.what === 'pour')!;
      expect(of('decant').start_s).toBeGreaterThanOrEqual(last.start_s + 10 + 30);
      expect(of('serve').start_s).toBeGreaterThanOrEqual(of('decant').end_s);
    }
  });
});

describe('scales', () => {
  it('fewer than brewers: they cannot run alongside, and one scale more is among the ways', () => {
    const schedule = scheduleBrewers(asked({ scales: 1 }));
    expect(schedule).toMatchObject({ possible: 'no', largest: 1, largest_proven: true });
    expect(schedule.remarks.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['scales_few', 'way_scales', 'way_one_after_another']),
    );
  });

  it('let brewers follow one another when they need not run alongside', () => {
    const { actions, possible } = scheduleBrewers(asked({ scales: 1, alongside: false }));
    expect(possible).toBe('yes');
    const second = actions.find(({ id }) => id === 'brewer 2 pour 1')!;
    const last = actions.find(({ id }) => id === 'brewer 1 pour 3')!;
    expect(second.start_s).toBeGreaterThanOrEqual(last.start_s + 10 + 30);
  });

  it('exclude running alongside where waits may vary as well', () => {
    const pours = [1, 2, 3].map(() => ({ water_g: 50, after_s: { min: 45, max: 60 } }));
    const schedule = scheduleBrewers(asked({ scales: 1, pours }));
    expect(schedule).toMatchObject({ possible: 'no', largest: 1, largest_proven: true });
  });
});

describe('brewers in their order', () => {
  it('lose no schedule: the answers are those of the network without it, on 60 random runs', () => {
    const chance = chanceFrom(33);
    const seen = { none: 0, some: 0 };
    for (let n = 0; n < 60; n++) {
      const order = asked({
        brewers: chance.whole(2, 3),
        pours: Array.from({ length: chance.whole(1, 3) }, () => {
          const min = chance.whole(15, 40);
          return { water_g: chance.whole(20, 60), after_s: { min, max: min + chance.whole(0, 15) } };
        }),
        decant: chance.whole(0, 1) ? { takes_s: chance.whole(3, 9), within_s: chance.whole(0, 20) } : null,
        alongside: chance.whole(0, 1) === 1,
        drain_s: chance.whole(5, 20),
      });
      const free = findByOrder(brewerNetwork(order), 'end', { effort: 3_000, step: 100 });
      const ordered = findByOrder(orderedNetwork(order), 'end', { effort: 3_000, step: 100 });
      if (free.answer !== 'best' && free.answer !== 'none') continue;
      expect(ordered.answer).toBe(free.answer);
      if (free.value !== null) expect(Math.abs(ordered.value! - free.value)).toBeLessThan(100);
      seen[free.answer === 'none' ? 'none' : 'some']++;
    }
    expect(Math.min(seen.none, seen.some)).toBeGreaterThan(5);
  });
});

describe('the largest number of brewers', () => {
  it('is proven where one more is excluded', () => {
    expect(largestNumber(asked())).toEqual({ largest: 3, proven: true });
  });
});
