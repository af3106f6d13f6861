import { dialPointOfDistribution, type Grinder } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { answerCurve } from '../room/curve-question.ts';
import { brewOrder, emptyBrew } from './brew-rows.ts';
import { dialMarks, dialOfMark, pointOf, pointsOf } from './dial-kernels.ts';

const point = (dial: number, median_um: number, touch_dial: number | null = null) => ({
  ...dialPointOfDistribution(String(dial), dial, { by: 'modes', modes: [{ share: 1, median_um, gsd: 1.4 }] }),
  touch_dial,
});

describe('points of a grinder', () => {
  it('stand where today’s zero puts them', () => {
    const drawn = pointOf(point(8.5, 800, 0.5), 1);
    expect(drawn.dial).toBe(9);
    expect(drawn.um).toBeCloseTo(800, -1);
    expect(drawn.low).toBeLessThan(drawn.um);
  });

  it.each([
    ['8.5 (sieved)', 8.5],
    ['10,0', 10],
    ['coarse', null],
    ['2 turns 3', null],
  ])('the mark %j reads as %j', (mark, dial) => {
    expect(dialOfMark(mark)).toBe(dial);
  });

  it('come from written settings only when asked', () => {
    const grinder = {
      id: 'g',
      zeros: [],
      settings: [
        {
          id: 'a',
          mark: '6',
          distribution: { by: 'modes', modes: [{ share: 1, median_um: 600, gsd: 1.4 }] },
        },
        {
          id: 'b',
          mark: 'coarse',
          distribution: { by: 'modes', modes: [{ share: 1, median_um: 900, gsd: 1.4 }] },
        },
      ],
    } as unknown as Grinder;
    expect(pointsOf(grinder, [], new Map(), false)).toEqual([]);
    expect(pointsOf(grinder, [], new Map(), true).map(({ dial }) => dial)).toEqual([6]);
  });

  it('have round marks along the dial', () => {
    expect(dialMarks(5, 11)).toEqual([5, 6, 7, 8, 9, 10, 11]);
    expect(dialMarks(0, 50).length).toBeLessThanOrEqual(11);
  });
});

describe('a curve', () => {
  const points = [point(6, 600), point(8, 760), point(10, 940)];
  const place = { touch_dial: 0, beans_C: null, burrs_kg: null };

  it('is drawn past both ends of what was measured, and answers for a size', () => {
    const answer = answerCurve({
      points,
      place,
      ask: { by: 'setting', target: { by: 'd50', d50_um: 760 } },
    })!;
    expect(answer.line[0]!.dial).toBe(5);
    expect(answer.line.at(-1)!.dial).toBe(11);
    expect(answer.measured).toEqual({ low: 6, high: 10 });
    if (answer.reply?.by !== 'setting') throw new Error('no answer');
    expect(answer.reply.answer.dial.mid).toBeCloseTo(8, 0);
  });

  it('moves with the zero point, and is null without a point', () => {
    const moved = answerCurve({ points, place: { ...place, touch_dial: 2 }, ask: null })!;
    expect(moved.measured).toEqual({ low: 8, high: 12 });
    expect(answerCurve({ points: [], place, ask: null })).toBeNull();
  });
});

describe('brews to go by', () => {
  it('leave out rows that say nothing and figures that cannot be', () => {
    const rows = [
      { dial: 8, drawdown_s: 150, yield_pct: 'abc' },
      { dial: null, drawdown_s: 120, yield_pct: 20 },
      emptyBrew,
    ];
    const order = brewOrder({ dial: null, drawdown_s: 140, yield_pct: 99 }, 'many', rows, 0)!;
    expect(order.brews).toEqual([{ dial: 8, drawdown_s: 150, yield_pct: null }]);
    expect(order.wanted).toEqual({ drawdown_s: 140, yield_pct: null, brews: 1 });
  });

  it('are nothing when no figure is on both sides', () => {
    expect(
      brewOrder({ ...emptyBrew, yield_pct: 20 }, 1, [{ ...emptyBrew, dial: 8, drawdown_s: 150 }], 0),
    ).toBeNull();
  });
});
