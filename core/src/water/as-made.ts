import { usableOrder } from './check-order.ts';
import type { WaterOrder } from './order.ts';
import { tableOf } from './problem-rows.ts';
import { madeSheet, type WeighSheet } from './weigh-sheet.ts';

/**
 * The water as it was really made: `given` says how many grams of a dose went in where that differs from its sheet, by item id, and
 * `batch_g` what all of it weighed in the end. Doses that are not said went in as asked; 0 leaves one out. Ions, reading, spread and
 * targets follow from what was given; `exact_g` of each dose is what the sheet asked for.
 * @throws RangeError when an amount is negative or not finite, or the sheet is not one of the order's.
 */
export function asMade(
  order: WaterOrder,
  sheet: WeighSheet,
  given: Readonly<Record<string, number>>,
  batch_g = sheet.batch_g,
): WeighSheet {
  for (const [id, grams] of [...Object.entries(given), ['the batch', batch_g] as const])
    if (!(grams >= 0 && Number.isFinite(grams)))
      throw new RangeError(`asMade: ${grams} g of ${id} is not a finite mass of 0 or more`);
  const { order: usable } = usableOrder(order);
  const water = usable.waters.find(({ id }) => id === sheet.water_id);
  if (!water || !(batch_g > 0)) throw new RangeError(`asMade: no batch of ${sheet.water_id} to be made`);
  const table = tableOf(usable);
  const perKilogram = (grams: number): number => (1000 * grams) / batch_g;
  const asked = table.items.map(({ id }) => sheet.doses.find(({ item_id }) => item_id === id)?.grams ?? 0);
  const really = Float64Array.from(table.items, ({ id }, i) => perKilogram(given[id] ?? asked[i]!));
  return madeSheet(usable, table, { ...water, batch_g }, asked.map(perKilogram), really, sheet.figures.hot_C);
}
