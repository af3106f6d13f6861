export * from './acid.ts';
export { asMade } from './as-made.ts';
export * from './atoms.ts';
export * from './basics.ts';
export { unitWords } from './check-order.ts';
export * from './composition.ts';
export * from './concentrates.ts';
export * from './conductivity.ts';
export * from './convert.ts';
export * from './design-concentrates.ts';
export type { CarbonRule, SolverStats } from './equilibrium.ts';
export { judgeTarget, type TargetResult } from './explain.ts';
export * from './figures.ts';
export {
  gatherOrder,
  type OrderLookup,
  readPlainMixture,
  readPlainOrder,
  readPlainWater,
  recipeOf,
} from './gather-order.ts';
export * from './hardness-units.ts';
export * from './heat.ts';
export * from './label.ts';
export * from './making-steps.ts';
export * from './meter.ts';
export * from './mistakes.ts';
export * from './order.ts';
export { QUANTITIES, QUANTITY_NAMES, type Quantity, quantityOf } from './quantities.ts';
export { type JudgedReading, readMeter } from './read-meter.ts';
export { figure as waterFigure, type MistakeKind, type WaterRemark, waterSentences } from './remarks.ts';
export * from './salts.ts';
export * from './saturation.ts';
export * from './solve-waters.ts';
export * from './speciate.ts';
export { SPECIES, SPECIES_NAMES, type SpeciesName } from './species.ts';
export { quantityWords, type WaterTerm, waterTerms } from './terms.ts';
export * from './uncertainty.ts';
export type { Dose, WeighSheet } from './weigh-sheet.ts';
