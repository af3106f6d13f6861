import { pourEnd } from '@pourline/core';
import type { KeyPlan } from './kernels/keys.ts';
import {
  endPourAt,
  type Hands,
  movePour,
  movePourAndLater,
  removePour,
  setPourGrams,
} from './kernels/pour-edit.ts';
import { onGrid } from './kernels/snap.ts';

/** What a key does to pour `index`; the same object when it does nothing. Arrows land on whole seconds and grams. */
export function applyKey<H extends Hands>(hands: H, index: number, plan: KeyPlan, ripple: boolean): H {
  const pour = hands.pours[index];
  if (!pour) return hands;
  const move = (start_s: number): H =>
    ripple ? movePourAndLater(hands, index, start_s) : movePour(hands, index, start_s);
  switch (plan.do) {
    case 'move':
      return move(stepTo(pour.start_s, plan.by_s));
    case 'resize':
      return endPourAt(hands, index, stepTo(pourEnd(pour), plan.by_s));
    case 'grams':
      return setPourGrams(hands, index, stepTo(pour.water_g, plan.by_g));
    case 'remove':
      return removePour(hands, index);
    case 'first':
      return move(0);
    case 'last':
      return move(Number.MAX_SAFE_INTEGER);
  }
}

/** One step on, landing on the grid of wholes: from 7.4 by 1 is 8, by −1 is 7. */
function stepTo(value: number, by: number): number {
  const step = Math.sign(by);
  const first = step > 0 ? Math.floor(value + 1e-6) + 1 : Math.ceil(value - 1e-6) - 1;
  return onGrid(first + by - step, 0.5);
}
