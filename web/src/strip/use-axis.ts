import type { BrewResult, Plan } from '@pourline/core';
import { pourEnd } from '@pourline/core';
import { useCallback, useMemo, useRef, useState } from 'react';
import { clampAxis, type Extent, makeAxis, type TimeAxis } from './kernels/time-axis.ts';
import { lastMoment, type MeasuredBrew } from './measured.ts';

/** All there is to see of a brew [s], with air at the end; on round tens, so that small changes do not move it. */
export function extentOf(
  plans: readonly Plan[],
  results: readonly (BrewResult | null)[],
  measured: readonly MeasuredBrew[] = [],
): Extent {
  let to = 30;
  for (const plan of plans) {
    for (const pour of plan.pours) to = Math.max(to, pourEnd(pour));
    to = Math.max(to, plan.lift_s ?? 0, plan.outlet_opens_s ?? 0);
  }
  for (const result of results) {
    const times = result?.trace.time_s;
    if (times && times.length > 0) to = Math.max(to, times[times.length - 1]!);
  }
  for (const brew of measured) to = Math.max(to, lastMoment(brew));
  return { from_s: -2, to_s: Math.ceil((to * 1.04 + 2) / 10) * 10 };
}

export interface AxisControl {
  axis: TimeAxis;
  extent: Extent;
  /** Something other than the whole brew is in view. */
  zoomed: boolean;
  change(next: (axis: TimeAxis, extent: Extent) => TimeAxis): void;
  reset(): void;
}

/**
 * The axis of a strip. Untouched it shows the whole brew; once a person zooms it stays where they put it. While `held` (a
 * gesture) it never moves by itself.
 */
export function useAxis(extent: Extent, width: number, held: boolean): AxisControl {
  const [view, setView] = useState<{ from_s: number; to_s: number } | null>(null);
  const steady = useRef(extent);
  if (!held) steady.current = extent;
  const { from_s, to_s } = steady.current;
  const axis = useMemo(() => {
    const whole = { from_s, to_s };
    return view ? clampAxis(makeAxis(view.from_s, view.to_s, width), whole) : makeAxis(from_s, to_s, width);
  }, [view, from_s, to_s, width]);
  const latest = useRef(axis);
  latest.current = axis;
  const change = useCallback((next: (axis: TimeAxis, extent: Extent) => TimeAxis) => {
    const moved = next(latest.current, steady.current);
    latest.current = moved;
    const span = steady.current.to_s - steady.current.from_s;
    setView(moved.to_s - moved.from_s >= span - 1e-6 ? null : { from_s: moved.from_s, to_s: moved.to_s });
  }, []);
  const reset = useCallback(() => setView(null), []);
  const zoomed = view !== null;
  return useMemo(
    () => ({ axis, extent: { from_s, to_s }, zoomed, change, reset }),
    [axis, from_s, to_s, zoomed, change, reset],
  );
}
