import { describe, expect, it } from 'vitest';
import { brewerNetwork, pourId, TICKS } from '../brewers/compile.ts';
import { brewerOrder } from '../brewers/order.ts';
import type { Network, Starts } from '../timing/network.ts';
import { findByOrder } from '../timing/order-search.ts';
import { type LateRun, waysOn } from './replan.ts';
import { sayWays } from './say-ways.ts';

/** Two brewers with five pours each, and eight sentences between them: 18 things to do with one pair of hands and one voice. */
function tenMinutes(): { network: Network; starts: Starts } {
  const order = brewerOrder.parse({
    brewers: 2,
    pours: [1, 2, 3, 4, 5].map(() => ({ water_g: 60, after_s: { min: 40, max: 55 } })),
    flow_g_s: 5,
    kettles: [{ fill_g: 900 }],
    limit_s: 330,
  });
  const brewers = brewerNetwork(order);
  const talk = Array.from({ length: 8 }, (_, i) => ({
    id: `say ${i}`,
    duration: 35 * TICKS,
    needs: { voice: 1 },
  }));
  const network: Network = {
    tasks: [...brewers.tasks, ...talk],
    lags: [
      ...brewers.lags,
      ...talk.slice(1).map(({ id }, i) => ({ from: talk[i]!.id, to: id, min: 35 * TICKS })),
    ],
    resources: { ...brewers.resources, voice: 1 },
    limit: 330 * TICKS,
  };
  return { network, starts: findByOrder(network, 'end', { effort: 200, step: 100 }).starts! };
}

const { network, starts } = tenMinutes();
const late = (more: Partial<LateRun> = {}): LateRun => ({
  network,
  starts,
  begun: Object.fromEntries(Object.entries(starts).filter(([, at]) => at < 60 * TICKS)),
  now: 85 * TICKS,
  limit: 290 * TICKS,
  ticksPerSecond: TICKS,
  penalty: { grace_s: 0, points: 1, every_s: 1, counts: 'begun', cap_points: null, hard_stop_s: 60 },
  droppable: [
    { name: 'fourth sentence', tasks: ['say 3'], points: 0.5 },
    { name: 'fifth sentence', tasks: ['say 4'], points: 2 },
    { name: 'last pour of the second brewer', tasks: [pourId(1, 4)], points: 6 },
  ],
  ...more,
});

describe('waysOn', () => {
  const ways = waysOn(late());

  it('weighs what is left out against seconds over, the cheapest first', () => {
    const keep = ways.find(({ left_out }) => left_out.length === 0)!;
    expect(keep.over_s).toBeGreaterThan(3);
    expect(ways[0]!.points).toBeLessThan(keep.points);
    expect(ways[0]!.left_out).toContain('fourth sentence');
    expect(sayWays(ways, TICKS)).toHaveLength(3);
    expect(sayWays(ways, TICKS)[0]!.sentence).toMatch(/^Leave out .*fourth sentence.*: ends at \d:\d\d/);
    for (const way of ways) expect(way.points).toBeCloseTo(way.dropped_points + way.overtime_points, 9);
  });

  it('leaves what has begun where it was and starts nothing in the past', () => {
    const { begun, now } = late();
    for (const way of ways)
      for (const [id, at] of Object.entries(way.starts)) {
        if (begun[id] === undefined) expect(at).toBeGreaterThanOrEqual(now);
        else expect(at).toBe(begun[id]);
      }
  });

  it('says which waits can no longer be kept', () => {
    const far = waysOn(late({ now: 200 * TICKS, droppable: [] }));
    expect(far).toHaveLength(1);
    expect(far[0]!.broken.length).toBeGreaterThan(0);
    const said = sayWays(far, TICKS);
    expect(said.at(-1)!.code).toBe('late_lags');
    for (const { sentence } of said) expect(sentence).not.toMatch(/[{}]|NaN|undefined/);
  });

  it('does not offer what has already been said, and puts ways that are stopped last', () => {
    expect(waysOn(late({ droppable: [{ name: 'greeting', tasks: ['say 0'], points: 0 }] }))).toHaveLength(1);
    const tight = waysOn(late({ limit: 225 * TICKS }));
    const stopped = tight.map(({ disqualified }) => disqualified);
    expect(stopped).toEqual([...stopped].sort());
  });

  it('answers at once', () => {
    waysOn(late());
    const before = performance.now();
    waysOn(late());
    const took = performance.now() - before;
    if (process.env.POURLINE_TIMED) {
      console.log(`late: ${took.toFixed(0)} ms`);
      expect(took).toBeLessThan(200);
    }
    expect(ways.length).toBeGreaterThan(3);
  });
});
