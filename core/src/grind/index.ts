export {
  type Analysed,
  type AnalyseOptions,
  analyseSizes,
  analyseSizing,
  curveOf,
  type FitSummary,
  type ModelParameters,
  parametersShown,
  type SizeAnalysis,
  type SizeCurve,
} from './analyse.ts';
export { APERTURES, apertureTolerance, PRINCIPAL_APERTURES, supersededBy } from './apertures.ts';
export type { Binned, Bounds } from './binned.ts';
export type { FigureBands, GrindProgress } from './bootstrap.ts';
export * from './classes.ts';
export { type DialPoint, dialPointOf, dialPointOfDistribution, touchAt } from './dial-points.ts';
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
export {
  type GrindMixOrder,
  type GrindMixPart,
  type GrindMixPartSheet,
  type GrindMixSheet,
  type SieveCut,
  sieveTable,
  workOutGrindMix,
} from './grind-mix.ts';
export {
  type AskedPlace,
  type CurveEstimate,
  curveAt,
  curveLine,
  type GrindBand,
  type GrinderCurve,
  grinderCurve,
} from './grinder-curve.ts';
export { checkJars, type DoseJar, type JarCheck, type JarOrder, type JudgedJar } from './jars.ts';
export { distributionOfTable } from './levels.ts';
export { measuredDistribution } from './measured-distribution.ts';
export { distributionOf, type LogNormalMode, type SizeModel } from './model.ts';
export * from './photo/index.ts';
export * from './photo/index.ts';
export { type MeasuredPicture, photoData } from './photo-data.ts';
export {
  type PlainTransfer,
  readPlainCurve,
  readPlainGrindMix,
  readPlainJars,
  readPlainTransfer,
} from './plain-orders.ts';
export { type ReadText, readSizeText } from './read-text.ts';
export { type GrindRemark, type GrindTerm, grindSentences, grindTerms } from './remarks.ts';
export {
  type GrindTarget,
  type SettingAnswer,
  type SettingOptions,
  settingFor,
  zeroShift,
} from './setting-for.ts';
export {
  type BrewTransfer,
  type BrewTransferOrder,
  type TransferBrew,
  transferByBrews,
  transferBySizes,
} from './transfer.ts';
export {
  conversionBias,
  type HistogramFigures,
  histogramFigures,
  volumeInCoarsest,
  type Weighting,
} from './weighting.ts';
