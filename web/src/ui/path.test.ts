import { describe, expect, it } from 'vitest';
import { getAt, samePath, setAt } from './path.ts';

const plan = { name: 'a', pours: [{ g: 50 }, { g: 60 }], rinse: null };

describe('paths', () => {
  it('lead to a value, or to nothing', () => {
    expect(getAt(plan, ['pours', 1, 'g'])).toBe(60);
    expect(getAt(plan, ['rinse', 'g'])).toBeUndefined();
    expect(getAt(plan, [])).toBe(plan);
  });

  it('change one place and share the rest', () => {
    const next = setAt(plan, ['pours', 1, 'g'], 70);
    expect(next.pours).toEqual([{ g: 50 }, { g: 70 }]);
    expect(next.pours[0]).toBe(plan.pours[0]);
    expect(plan.pours[1]).toEqual({ g: 60 });
  });

  it('make the parts that are not there yet', () => {
    expect(setAt(plan, ['rinse', 'water_g'], 100).rinse).toEqual({ water_g: 100 });
  });

  it('are the same only step by step', () => {
    expect(samePath(['pours', 1], ['pours', 1])).toBe(true);
    expect(samePath(['pours', 1], ['pours'])).toBe(false);
    expect(samePath(['pours', 1], ['pours', 2])).toBe(false);
  });
});
