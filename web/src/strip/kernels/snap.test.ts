import { describe, expect, it } from 'vitest';
import { gridFor, onGrid, snap } from './snap.ts';

describe('snapping', () => {
  it('rests on whole seconds when far out and on halves when close in', () => {
    expect(gridFor(4)).toBe(1);
    expect(gridFor(30)).toBe(0.5);
    expect(snap(12.4, 1, [], 1)).toEqual({ time_s: 12, edge_s: null });
    expect(snap(12.4, 0.5, [], 1)).toEqual({ time_s: 12.5, edge_s: null });
  });

  it('takes a neighbour’s edge before the grid, and the nearer of two edges', () => {
    expect(snap(12.1, 1, [12.3], 0.5)).toEqual({ time_s: 12.3, edge_s: 12.3 });
    expect(snap(12.1, 1, [11.8, 12.3], 0.5).edge_s).toBe(12.3);
    expect(snap(12.1, 1, [13], 0.5).edge_s).toBeNull();
  });

  it('leaves no binary crumbs on the grid', () => {
    expect(onGrid(0.1 + 0.2, 0.1)).toBe(0.3);
    expect(onGrid(7.4999, 0.5)).toBe(7.5);
  });
});
