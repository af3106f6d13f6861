import { describe, expect, it } from 'vitest';
import { pooledScatter } from './pooled-scatter.ts';

describe('scatter within groups', () => {
  it('is the error of the one-way table, worked by hand: (2 + 8) over 1 + 2', () => {
    const found = pooledScatter([[1, 3], [10, 12, 14], [7]])!;
    expect(found.sd).toBeCloseTo(Math.sqrt(10 / 3), 12);
    expect([found.free, found.groups]).toEqual([3, 2]);
  });
  it('needs two values of one group', () => {
    expect(pooledScatter([[1], [2]])).toBeNull();
    expect(pooledScatter([])).toBeNull();
  });
});
