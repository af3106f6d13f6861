import type { MatterEffect, MatterInput, WhatMatters } from '@pourline/core';

/** A row of the view, without words. */
export interface MatterRow {
  input: MatterInput;
  effect: MatterEffect;
  /** The effect to show, in `unit`: of one step for a knob, over the whole range for a constant. */
  change: number;
  unit: string;
  digits: number;
  /** It may go either way, depending on all the rest; then `change` is a size. */
  eitherWay: boolean;
  /** From the middle (0) to either end (±1): where the bar ends … */
  to: number;
  /** … and the line of how much that depends on the rest. */
  line: readonly [number, number];
}

type Target = WhatMatters['targets'][number];

/** Below this share of the largest effect a row says nothing worth reading. */
const WORTH_A_ROW = 0.02;
/** More spread than this share of the size: the sign alone would mislead. */
const EITHER_WAY = 0.5;

/** Rows of one kind of input for one figure, largest effect first; bars are measured in the largest effect among them. */
export function matterRows(result: WhatMatters, target: Target, kind: MatterInput['kind']): MatterRow[] {
  const mine = target.effects.filter(({ input }) => result.inputs[input]!.kind === kind);
  const largest = mine[0]?.size ?? 0;
  return mine
    .filter(({ size }) => size >= WORTH_A_ROW * largest)
    .map((effect) => rowOf(result.inputs[effect.input]!, effect, target, largest));
}

function rowOf(input: MatterInput, effect: MatterEffect, target: Target, largest: number): MatterRow {
  const eitherWay = Math.abs(effect.mean) < EITHER_WAY * effect.size;
  const step = effect.step_effect === null ? 1 : effect.step_effect / effect.mean;
  const value = (eitherWay ? effect.size : effect.mean) * (effect.mean === 0 ? 1 : step);
  const shown = inReadableUnit(target, value);
  const clip = (x: number) => Math.min(1, Math.max(-1, x));
  const half = (Number.isFinite(effect.spread) ? effect.spread : 0) / largest;
  const mean = effect.mean / largest;
  return {
    input,
    effect,
    ...shown,
    eitherWay,
    to: eitherWay ? effect.size / largest : mean,
    line: [clip(mean - half), clip(mean + half)],
  };
}

/** Decimals of a change of each figure. */
const DIGITS = { strength: 2, yield: 2, drawdown: 1, peak_bed: 1, server: 1, balance: 1 } as const;

/** A change of a figure in the unit it is read in: the balance in per cent of what it is, the rest as it is. */
function inReadableUnit(target: Target, value: number): { change: number; unit: string; digits: number } {
  const relative = target.key === 'balance';
  return {
    change: relative ? (value / target.now) * 100 : value,
    unit: relative ? '%' : target.unit,
    digits: DIGITS[target.key],
  };
}
