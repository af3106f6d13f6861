import type { Spread } from '@pourline/core';
import { formatNumber } from '../../../words/index.ts';

/** Decimals that show two significant figures of a spread, within 0 and `most`. */
export function digitsFor(u: number, most = 3): number {
  if (!(u > 0) || !Number.isFinite(u)) return most;
  return Math.max(0, Math.min(most, 1 - Math.floor(Math.log10(u))));
}

/** Decimals for a figure without a spread: three significant ones. */
export function plainDigits(value: number, most = 3): number {
  if (!(Math.abs(value) > 0) || !Number.isFinite(value)) return 0;
  return Math.max(0, Math.min(most, 2 - Math.floor(Math.log10(Math.abs(value)))));
}

/** A figure with what it may lie within: `89.6 ± 2.1`. Without a spread worth showing, the figure alone. */
export function spreadText(of: Spread | undefined, most = 2): string {
  if (!of || !Number.isFinite(of.value)) return '–';
  const u = (of.high - of.low) / 2;
  if (!(u > 0.5 * 10 ** -most)) return formatNumber(of.value, plainDigits(of.value, most));
  const digits = digitsFor(u, most);
  return `${formatNumber(of.value, digits)} ± ${formatNumber(u, digits)}`;
}

/** A spread in another unit, by its factor. */
export const scaledSpread = ({ value, low, high }: Spread, factor: number): Spread => ({
  value: value * factor,
  low: low * factor,
  high: high * factor,
});

/** A figure with three significant digits. */
export const plainText = (value: number, most = 3): string => formatNumber(value, plainDigits(value, most));

/** A share as a percentage: `1.4 %`; below a tenth of one, `< 0.1 %`. */
export function percentText(share: number): string {
  if (!Number.isFinite(share)) return '–';
  const percent = 100 * share;
  if (percent > 0 && percent < 0.1) return '< 0.1 %';
  return `${formatNumber(percent, percent < 10 ? 1 : 0)} %`;
}
