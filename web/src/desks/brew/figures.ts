import type { Band, Bands, BrewResult } from '@pourline/core';
import type { Key } from '../../words/index.ts';

/** A figure of the cup: how it is named, shown and explained. */
export interface Figure {
  readonly key: FigureKey;
  readonly label: Key;
  /** Where it comes from, in plain words. */
  readonly why: Key;
  readonly unit: string;
  readonly digits: number;
  /** Shown as a clock time. */
  readonly clock?: boolean;
  of(result: BrewResult): number | null;
  band?(bands: Bands): Band;
  /** A moment to jump to. */
  at?(result: BrewResult): number | null;
}

export type FigureKey =
  | 'beverage'
  | 'strength'
  | 'yield'
  | 'drawdown'
  | 'end'
  | 'peak'
  | 'lowest'
  | 'server'
  | 'ratio'
  | 'held'
  | 'total_yield'
  | 'evaporated'
  | 'spilled'
  | 'hardness'
  | 'alkalinity';

const figure = (
  key: FigureKey,
  unit: string,
  digits: number,
  of: Figure['of'],
  more: Partial<Pick<Figure, 'clock' | 'band' | 'at'>> = {},
): Figure => ({ key, label: `brew.figure.${key}`, why: `brew.why.${key}`, unit, digits, of, ...more });

/** The four that a brewer asks for first. */
export const MAIN_FIGURES: readonly Figure[] = [
  figure('beverage', 'g', 0, (r) => r.cup.beverage_g, { band: (b) => b.beverage_g }),
  figure('strength', '%', 2, (r) => r.cup.strength_pct, { band: (b) => b.strength_pct }),
  figure('yield', '%', 1, (r) => r.cup.yield_pct, { band: (b) => b.yield_pct }),
  figure('drawdown', '', 0, (r) => r.cup.drawdown_s, {
    clock: true,
    band: (b) => b.drawdown_s,
    at: (r) => r.cup.drawdown_s,
  }),
];

/** The rest, in the order of a brew. */
export const MORE_FIGURES: readonly Figure[] = [
  figure('peak', '°C', 1, (r) => r.cup.peak_bed_C, {
    band: (b) => b.peak_bed_C,
    at: (r) => r.cup.peak_bed_at_s,
  }),
  figure('lowest', '°C', 1, (r) => r.cup.lowest_bed_C, { at: (r) => r.cup.lowest_bed_at_s }),
  figure('server', '°C', 0, (r) => r.cup.server_C, { band: (b) => b.server_C }),
  figure('end', '', 0, (r) => r.cup.end_s, { clock: true, at: (r) => r.cup.end_s }),
  figure('ratio', '', 1, (r) => r.cup.ratio),
  figure('held', 'g', 1, (r) => r.cup.held_g),
  figure('evaporated', 'g', 1, (r) => r.cup.evaporated_g),
  figure('spilled', 'g', 1, (r) => (r.cup.spilled_g > 0.05 ? r.cup.spilled_g : null)),
  figure('total_yield', '%', 1, (r) => r.cup.total_yield_pct),
  figure('hardness', 'mg/L CaCO₃', 0, (r) => r.cup.hardness_mg_L_CaCO3),
  figure('alkalinity', 'mg/L CaCO₃', 0, (r) => r.cup.alkalinity_mg_L_CaCO3),
];

export const ALL_FIGURES: readonly Figure[] = [...MAIN_FIGURES, ...MORE_FIGURES];

/** Depth of the bed in words: the catalogue's key for a share from 0 (top) to 1 (bottom). */
export function depthKey(depth: number): Key {
  if (depth < 0.2) return 'brew.depth.top';
  if (depth < 0.4) return 'brew.depth.upper';
  if (depth <= 0.6) return 'brew.depth.middle';
  return depth <= 0.8 ? 'brew.depth.lower' : 'brew.depth.bottom';
}
