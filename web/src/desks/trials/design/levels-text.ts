import type { DesignFactor } from '@pourline/core';
import { formatNumber } from '../../../words/index.ts';

/** Decimals that a factor's steps need. */
export function decimalsOf({ step, low, high }: DesignFactor): number {
  const grain = step ?? (high - low) / 50;
  return Math.max(0, Math.min(3, -Math.floor(Math.log10(grain) + 1e-9)));
}

export const levelText = (factor: DesignFactor, level: number): string =>
  formatNumber(level, decimalsOf(factor));

/** `15.0 g`. */
export const levelWithUnit = (factor: DesignFactor, level: number): string =>
  `${levelText(factor, level)}${factor.unit ? `\u202f${factor.unit}` : ''}`;
