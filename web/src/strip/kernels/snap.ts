/** Where a dragged edge comes to rest. */

/** A place worth resting at: a whole second by the grid, or another pour's edge. */
export interface SnapPlan {
  readonly time_s: number;
  /** The neighbouring edge it took hold of, or null when it lies on the grid. */
  readonly edge_s: number | null;
}

/** Grid for a zoom: half seconds once a second is wide enough to aim at. */
export const gridFor = (pxPerSecond: number): number => (pxPerSecond >= 24 ? 0.5 : 1);

/**
 * Rests `time_s` on a nearby edge if one lies within `reach_s`, else on the grid. Edges win because "directly after
 * the pour before" is meant more often than the second beside it.
 */
export function snap(time_s: number, grid_s: number, edges: readonly number[], reach_s: number): SnapPlan {
  let edge_s: number | null = null;
  let nearest = reach_s;
  for (const edge of edges) {
    const away = Math.abs(edge - time_s);
    if (away <= nearest) {
      nearest = away;
      edge_s = edge;
    }
  }
  return edge_s === null ? { time_s: onGrid(time_s, grid_s), edge_s } : { time_s: edge_s, edge_s };
}

/** The nearest multiple of `grid`, free of binary crumbs: `onGrid(0.1 + 0.2, 0.1)` is `0.3`. */
export const onGrid = (value: number, grid: number): number =>
  Number((Math.round(value / grid) * grid).toFixed(6));
