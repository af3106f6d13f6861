export { type Progress, sampleParameters, simulateBands } from './bands.ts';
export { type BedTrace, type BedVisit, type BedVisits, bedVisits } from './bed-visits.ts';
export { kettleRemarks } from './kettles.ts';
export {
  defaultParameters,
  PARAMETER_NAMES,
  PARAMETERS,
  type Parameter,
  type ParameterName,
  type Parameters,
} from './parameters.ts';
export { remarkSentences } from './remarks.ts';
export * from './result.ts';
export { type SimulateOptions, simulate } from './simulate.ts';
export { SOLUTES, type Solute } from './solutes.ts';
