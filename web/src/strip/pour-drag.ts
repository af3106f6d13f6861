import { type Plan, pourDuration, pourEnd } from '@pourline/core';
import { gramsAfterDrag, type PourPart } from './kernels/hands-layout.ts';
import { endPourAt, type Hands, movePour, movePourAndLater, setPourGrams } from './kernels/pour-edit.ts';
import { gridFor, onGrid, snap } from './kernels/snap.ts';
import { pxPerSecond, type TimeAxis } from './kernels/time-axis.ts';

/** A pour in hand: which part of it, where it was taken, and the plan as it was then. */
export interface Drag {
  pointer: number;
  index: number;
  part: PourPart;
  x: number;
  y: number;
  base: Hands;
  scale_g: number;
  moved: boolean;
  last: Hands;
}

/** How near an edge must be to take hold of it [px]. */
const EDGE_PX = 7;

/** The part of a plan that the strip edits. */
export const handsOf = (plan: Plan): Hands => ({
  pours: plan.pours,
  actions: plan.actions,
  lift_s: plan.lift_s,
  outlet_opens_s: plan.outlet_opens_s,
});

/** The plan after dragging a part by `dx, dy` [px] from where it was taken. */
export function dragTo(
  held: Drag,
  dx: number,
  dy: number,
  axis: TimeAxis,
  laneHeight: number,
  ripple: boolean,
): Hands {
  const { base, index, part } = held;
  const pour = base.pours[index]!;
  const perSecond = pxPerSecond(axis);
  const grid = gridFor(perSecond);
  const reach = EDGE_PX / perSecond;
  const others = base.pours.filter((_, i) => i !== index);
  if (part === 'top') {
    const grams = gramsAfterDrag(pour.water_g, dy, laneHeight, held.scale_g);
    return setPourGrams(base, index, onGrid(grams, 1));
  }
  if (part === 'end') {
    const end = pourEnd(pour) + dx / perSecond;
    return endPourAt(
      base,
      index,
      snap(
        end,
        grid,
        others.map((p) => p.start_s),
        reach,
      ).time_s,
    );
  }
  const edges = others.flatMap((p) => [pourEnd(p), p.start_s - pourDuration(pour)]);
  const start = snap(pour.start_s + dx / perSecond, grid, ripple ? [] : edges, reach).time_s;
  return ripple ? movePourAndLater(base, index, start) : movePour(base, index, start);
}
