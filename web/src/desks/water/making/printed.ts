import {
  asMade,
  type Batch,
  type Concentrate,
  type ConcentrateDocument,
  checkConcentrate,
  DENSITY_25,
  expectedReading,
  type Ions,
  ionsOf,
  judgeReading,
  KEEPS_DAYS,
  type Mistake,
  recipeOf,
  SALTS,
  type SolvedWaters,
  speciate,
  type WaterOrder,
  type WaterRemark,
  type WeighSheet,
} from '@pourline/core';
import { daysAfter, givenOf } from './kernels.ts';

/** A water as it goes on paper: its sheet, the water as weighed, and its newest batch when there is one. */
export interface PrintedWater {
  sheet: WeighSheet;
  made: WeighSheet;
  given: Readonly<Record<string, number>>;
  batch: Batch | null;
  /** The meter was asked and refused it: that must stand on whatever is printed. */
  refused: boolean;
  /** Mistakes that no meter would find. */
  unseen: readonly Mistake[];
}

/** The newest batch of every water of an order, by the water's id. */
export function newestBatches(batches: readonly Batch[], mixId: string): ReadonlyMap<string, Batch> {
  const newest = new Map<string, Batch>();
  for (const batch of batches) {
    if (batch.mix_id !== mixId) continue;
    const known = newest.get(batch.water_id);
    if (!known || batch.id > known.id) newest.set(batch.water_id, batch);
  }
  return newest;
}

export const printedWaters = (
  order: WaterOrder,
  solved: SolvedWaters,
  mistakes: readonly (readonly Mistake[])[],
  newest: ReadonlyMap<string, Batch>,
): PrintedWater[] =>
  solved.sheets.map((sheet, i) => {
    const batch = newest.get(sheet.water_id) ?? null;
    const given = givenOf(batch?.given ?? []);
    const made = asMade(order, sheet, given);
    return {
      sheet,
      made,
      given,
      batch,
      refused: batch !== null && isRefused(order, made, batch),
      unseen: (mistakes[i] ?? []).filter(({ verdict }) => verdict === 'as expected'),
    };
  });

function isRefused(order: WaterOrder, made: WeighSheet, { meter_shows, sample_C }: Batch): boolean {
  if (meter_shows === null) return false;
  const standing = speciate(made.composition, { temperature_C: 25, carbon: 'air' });
  const verdict = judgeReading(expectedReading(standing, order.instruments.meter, sample_C), meter_shows);
  return verdict === 'too low' || verdict === 'too high';
}

/** Everything that stands on the label of a concentrate. */
export interface PrintedBottle {
  /** Ions in a litre of it [mg], the largest first. */
  ions: { field: keyof Ions; mg_L: number }[];
  made_on: string | null;
  use_by: string | null;
  caustic: boolean;
  /** What must not stand on a bottle in silence: solids that form, a mouthful's worth. */
  remarks: WaterRemark[];
}

export function printedBottle(document: ConcentrateDocument, concentrate: Concentrate): PrintedBottle {
  const ions = ionsOf(concentrate.per_kg);
  // Amounts are per kilogram of the concentrate; what stands on it is per litre of it.
  const perLitre = concentrate.density / (DENSITY_25 / 1000);
  return {
    ions: (Object.keys(ions) as (keyof Ions)[])
      .map((field) => ({ field, mg_L: ions[field] * perLitre }))
      .filter(({ mg_L }) => mg_L >= 0.5)
      .sort((a, b) => b.mg_L - a.mg_L),
    made_on: document.made_on,
    use_by: document.made_on === null ? null : daysAfter(document.made_on, KEEPS_DAYS),
    caustic: document.parts.some(({ salt }) => SALTS[salt].caustic),
    remarks: checkConcentrate(recipeOf(document), document.id),
  };
}
