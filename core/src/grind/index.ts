export {
  type Analysed,
  type AnalyseOptions,
  analyseSizes,
  analyseSizing,
  curveOf,
  type FitSummary,
  type ModelParameters,
  measuredDistribution,
  parametersShown,
  type SizeAnalysis,
  type SizeCurve,
} from './analyse.ts';
export { APERTURES, apertureTolerance, PRINCIPAL_APERTURES, supersededBy } from './apertures.ts';
export type { Binned, Bounds } from './binned.ts';
export type { FigureBands, GrindProgress } from './bootstrap.ts';
export * from './classes.ts';
export {
  brokenShare,
  FIGURE_NAMES,
  type FigureName,
  type GrainConstants,
  grainConstants,
  modelFigures,
  modelTable,
  type SizeFigures,
  tableFigures,
} from './figures.ts';
export { MODEL_NAMES, type ModelName } from './fit.ts';
export { distributionOf, type LogNormalMode, type SizeModel } from './model.ts';
export { type GrindRemark, grindSentences } from './remarks.ts';
export {
  conversionBias,
  type HistogramFigures,
  histogramFigures,
  volumeInCoarsest,
  type Weighting,
} from './weighting.ts';
