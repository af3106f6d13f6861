export { type Progress, sampleParameters, simulateBands } from './bands.ts';
export { type BedTrace, type BedVisit, type BedVisits, bedVisits } from './bed-visits.ts';
export { checkParameters, ParameterError } from './check-parameters.ts';
export { kettleCourses } from './kettles.ts';
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
export { sobolPoints } from './sampling/sobol.ts';
export {
  type ExplainOptions,
  MATTER_TARGETS,
  type MatterEffect,
  type MatterInput,
  type MatterOptions,
  type MatterShare,
  type MatterTargetKey,
  type WhatExplains,
  type WhatMatters,
  whatExplains,
  whatMatters,
} from './sensitivity.ts';
export { type SimulateOptions, simulate } from './simulate.ts';
export {
  HELD_LEVEL,
  SOLUTE_CONSTANT_NAMES,
  SOLUTE_CONSTANTS,
  SOLUTES,
  type Solute,
  type SoluteConstantName,
  type SoluteConstants,
} from './solutes.ts';
