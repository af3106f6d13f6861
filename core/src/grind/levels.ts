import type { Distribution } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import type { SizeTable } from './classes.ts';
import { tableQuantile } from './figures.ts';
import { type SizeModel, sizeQuantile, withSharesOfOne } from './model.ts';
import { normalCdf } from './special.ts';

/** Normal scores of the quantiles that a distribution is carried by: even steps from 0.13 % to 99.87 % of the mass. */
export const LEVELS: Float64Array = Float64Array.from({ length: 41 }, (_, k) => -3 + (6 * k) / 40);
/** Place of the median among the levels. */
export const MEDIAN = 20;

/** Diameters of a model at the levels, as logarithms. */
export const logSizesOf = (model: SizeModel): Float64Array =>
  LEVELS.map((z) => Math.log(sizeQuantile(model, normalCdf(z))));

/** The same for a table. */
export const logSizesOfTable = (table: SizeTable): Float64Array =>
  LEVELS.map((z) => Math.log(tableQuantile(table, normalCdf(z))));

/** Sizes at the levels as a table: each stands for the mass between its neighbours. */
export function tableOfLevels(logSizes: Float64Array): SizeTable {
  // Quantiles can only rise; a prediction drawn far out may cross a little and is put in order.
  const sorted = logSizes.slice().sort();
  const edge = (k: number) => normalCdf((LEVELS[k - 1]! + LEVELS[k]!) / 2);
  const last = LEVELS.length - 1;
  return {
    diameter: sorted.map(Math.exp),
    share: LEVELS.map((_, k) => (k === last ? 1 : edge(k + 1)) - (k === 0 ? 0 : edge(k))),
  };
}

/** Mass below a diameter [m], %, between the levels by a straight line of the normal score over ln d. */
export function levelsBelow(logSizes: Float64Array, limit: number): number {
  const sorted = logSizes.slice().sort();
  const x = Math.log(limit);
  if (x <= sorted[0]!) return 0;
  for (let k = 1; k < sorted.length; k++) {
    if (x > sorted[k]!) continue;
    const part = (x - sorted[k - 1]!) / (sorted[k]! - sorted[k - 1]!);
    return 100 * normalCdf(LEVELS[k - 1]! + part * (LEVELS[k]! - LEVELS[k - 1]!));
  }
  return 100;
}

/** A table as a setting of a grinder keeps it; rows of one size are joined. */
export function distributionOfTable(table: SizeTable): Distribution {
  const rows = new Map<number, number>();
  table.diameter.forEach((d, k) => {
    const um = Number(Math.min(5_000, Math.max(1, d / MICROMETRE)).toPrecision(6));
    rows.set(um, (rows.get(um) ?? 0) + table.share[k]!);
  });
  const classes = [...rows].map(([diameter_um, share]) => ({ diameter_um, share }));
  return { by: 'classes', classes: withSharesOfOne(classes.sort((a, b) => a.diameter_um - b.diameter_um)) };
}
