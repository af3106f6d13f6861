import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../panel/random.ts';
import { checkSchedule } from './check-schedule.ts';
import { endOf, type Network } from './network.ts';
import { search } from './search.ts';
import { handOvers, latestStarts, slackOf } from './slack.ts';
import { randomNetwork, shortestByTrying } from './testing/random-network.ts';

const two: Network = {
  tasks: [
    { id: 'a', duration: 3, needs: { hands: 1 } },
    { id: 'b', duration: 2, needs: { hands: 1 } },
  ],
  lags: [],
  resources: { hands: 1 },
  limit: 10,
};

describe('search', () => {
  it('keeps every lag and never clashes in 1 200 random networks, up to 14 tasks', () => {
    const chance = chanceFrom(11);
    let kept = 0;
    for (let n = 0; n < 1200; n++) {
      const network = randomNetwork(chance, 14);
      const found = search(network, { what: 'end' });
      expect(['best', 'none']).toContain(found.answer);
      if (!found.starts) continue;
      kept++;
      expect(checkSchedule(network, found.starts)).toEqual([]);
      expect(endOf(network, found.starts)).toBe(found.value);
    }
    expect(kept).toBeGreaterThan(200);
  });

  it('agrees with trying every placement, on 400 small networks', () => {
    const chance = chanceFrom(12);
    let impossible = 0;
    for (let n = 0; n < 400; n++) {
      const network = randomNetwork(chance, 4);
      const tried = shortestByTrying(network, (starts) => checkSchedule(network, starts).length === 0);
      const found = search(network, { what: 'end' });
      if (tried === null) impossible++;
      expect(found.answer).toBe(tried === null ? 'none' : 'best');
      expect(found.value).toBe(tried);
    }
    expect(impossible).toBeGreaterThan(20);
  });

  it('finds the latest start of a task as the brother of the earliest end', () => {
    const chance = chanceFrom(13);
    for (let n = 0; n < 300; n++) {
      const network = randomNetwork(chance, 5);
      const found = search(network, { what: 'latest', task: 't0' });
      if (found.answer === 'none') continue;
      expect(checkSchedule(network, found.starts!)).toEqual([]);
      const later = {
        ...network,
        tasks: network.tasks.map((t) => (t.id === 't0' ? { ...t, earliest: found.value! + 1 } : t)),
      };
      expect(search(later, { what: 'any' }).answer).toBe('none');
    }
  });

  it('says what is open when its effort is used up', () => {
    const found = search(
      { ...two, limit: 4, tasks: [...two.tasks, { id: 'c', duration: 1, needs: { hands: 1 } }] },
      { what: 'end' },
      { effort: 1 },
    );
    expect(['none', 'open']).toContain(found.answer);
    expect(found.starts).toBeNull();
  });

  it('answers an empty network and refuses a broken one', () => {
    expect(search({ tasks: [], lags: [], resources: {}, limit: 0 }, { what: 'end' })).toMatchObject({
      answer: 'best',
      value: 0,
    });
    expect(() => search({ ...two, tasks: [two.tasks[0]!, two.tasks[0]!] }, { what: 'end' })).toThrow(
      'stands twice',
    );
    expect(() => search({ ...two, lags: [{ from: 'a', to: 'x', min: 0 }] }, { what: 'end' })).toThrow(
      'a → x',
    );
    expect(() => search({ ...two, limit: 1.5 }, { what: 'end' })).toThrow('1.5');
  });
});

describe('slackOf', () => {
  it('gives starts that can be kept when one task uses all its room', () => {
    const chance = chanceFrom(14);
    let moved = 0;
    for (let n = 0; n < 300; n++) {
      const network = randomNetwork(chance, 7);
      const { starts } = search(network, { what: 'end' });
      if (!starts) continue;
      const slack = slackOf(network, starts);
      for (const { task, alone, latest } of slack) {
        expect(alone).toBeGreaterThanOrEqual(starts[task]!);
        expect(latest).toBeGreaterThanOrEqual(alone);
        expect(checkSchedule(network, { ...starts, [task]: alone })).toEqual([]);
        if (latest > starts[task]!) moved++;
      }
      const lags = [...network.lags, ...handOvers(network, starts)];
      for (const { id } of network.tasks) {
        const later = latestStarts(network, lags, starts, starts[id]!);
        expect(checkSchedule(network, later)).toEqual([]);
      }
    }
    expect(moved).toBeGreaterThan(50);
  });
});
