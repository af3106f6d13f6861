import type { Composition } from './composition.ts';
import { CONDUCTIVITY_DOUBT } from './conductivity.ts';
import { explainMisses, judgeTarget, type TargetResult } from './explain.ts';
import { type Deviation, type WaterFigures, waterFigures } from './figures.ts';
import { type ExpectedReading, expectedReading } from './meter.ts';
import type { WantedWater, WaterOrder } from './order.ts';
import { type Item, madeOf, type Table } from './problem-rows.ts';
import type { WaterRemark } from './remarks.ts';
import { roundingRemarks, waterRemarks } from './say.ts';
import { speciate } from './speciate.ts';
import { deviationsOf, doseUncertainty } from './uncertainty.ts';

/** One thing to be weighed or dosed into a batch. */
export interface Dose {
  item_id: string;
  name: string;
  kind: 'jar' | 'concentrate' | 'base';
  /** In whole steps of the instrument, and what would be exact [g]. */
  grams: number;
  exact_g: number;
  /** Millilitres, for a liquid dosed by syringe. */
  mL: number | null;
  steps: number;
  step_g: number;
  step_words: string;
  /** Relative standard uncertainty of what the dose brings. */
  uncertainty: number;
}

/** How to make one water, and what it will be. */
export interface WeighSheet {
  water_id: string;
  name: string;
  batch_g: number;
  /** The main water: fill up with this [g]. */
  main: { base_id: string; name: string; grams: number };
  doses: Dose[];
  /** The water that the doses make [mol/kg]. */
  composition: Composition;
  deviations: Deviation[];
  figures: WaterFigures;
  targets: TargetResult[];
  reading: ExpectedReading;
  /** Of salts and waters that have a price; in the currency of the shelf. */
  price: number;
  remarks: WaterRemark[];
}

/**
 * The sheet of one water from what was found for it, with everything there is to say of the recipe. `exact` and `rounded` in grams
 * of each item per kilogram.
 */
export function sheetOf(
  order: WaterOrder,
  table: Table,
  water: WantedWater,
  exact: Float64Array,
  rounded: Float64Array,
  hot_C?: number,
): WeighSheet {
  const sheet = madeSheet(order, table, water, exact, rounded, hot_C);
  const remarks = [
    ...explainMisses(table, water, madeOf(table, exact), exact),
    ...roundingRemarks(table, water, exact, rounded, order.instruments),
    ...sheet.remarks,
  ];
  return { ...sheet, remarks };
}

/**
 * The sheet of a water as its doses make it. `asked` and `given` in grams of each item per kilogram; what is said is of the water
 * that was given, not of why targets were missed.
 */
export function madeSheet(
  order: WaterOrder,
  table: Table,
  water: WantedWater,
  asked: ArrayLike<number>,
  given: Float64Array,
  hot_C?: number,
): WeighSheet {
  const batch = water.batch_g / 1000;
  const inBatch = given.map((g) => g * batch);
  const composition = madeOf(table, given);
  const deviations = deviationsOf(table, inBatch, water.batch_g, order.instruments);
  const figures = waterFigures(composition, deviations, hot_C);
  const doses = table.items.flatMap((item, i) =>
    inBatch[i]! > 0 ? [doseOf(item, inBatch[i]!, asked[i]! * batch, order)] : [],
  );
  const liquid = doses.reduce((sum, { kind, grams }) => sum + (kind === 'jar' ? 0 : grams), 0);
  const standing = speciate(composition, { temperature_C: 25, carbon: 'air' });
  const mainGrams = Math.max(0, water.batch_g - liquid);
  const prices = table.items.reduce((sum, { price_per_g }, i) => sum + (price_per_g ?? 0) * inBatch[i]!, 0);
  return {
    water_id: water.id,
    name: water.name,
    batch_g: water.batch_g,
    main: { base_id: table.main.id, name: table.main.name, grams: mainGrams },
    doses,
    composition,
    deviations,
    figures,
    targets: water.targets.map((target) => judgeTarget(target, composition)),
    reading: expectedReading(standing, order.instruments.meter, 25, dosingDoubt(figures)),
    price: prices + ((table.main.price_per_L ?? 0) * mainGrams) / 1000,
    remarks: waterRemarks(water, composition, figures),
  };
}

/** Relative standard uncertainty of the conductivity from dosing alone, the model's own doubt taken out. */
export function dosingDoubt({ quantities: { conductivity } }: WaterFigures): number {
  if (!conductivity) return 0;
  const all = (conductivity.high - conductivity.value) / 2 / conductivity.value;
  return Math.sqrt(Math.max(0, all * all - CONDUCTIVITY_DOUBT * CONDUCTIVITY_DOUBT));
}

function doseOf(item: Item, grams: number, exact_g: number, { instruments }: WaterOrder): Dose {
  const { from } = item;
  const bySyringe =
    from.kind === 'concentrate' && from.concentrate.given_by === 'syringe' && instruments.syringe;
  return {
    item_id: item.id,
    name: item.name,
    kind: from.kind,
    grams,
    exact_g,
    mL: bySyringe ? grams / from.concentrate.density : null,
    steps: Math.round(grams / item.step_g),
    step_g: item.step_g,
    step_words: item.step_words,
    uncertainty: doseUncertainty(item, grams, instruments).relative,
  };
}
