export {
  type MatchedPours,
  matchPours,
  type PlanAsPoured,
  type PourMatch,
  planAsPoured,
  pouredOf,
  shapedPours,
} from './as-poured.ts';
export { cleanMass } from './clean-mass.ts';
export { type EvenSteps, toEvenSteps } from './even-steps.ts';
export { findDrawdown } from './find-drawdown.ts';
export { findPours, halfIn, type PourOptions, poursIn } from './find-pours.ts';
export * from './live/index.ts';
export * from './look.ts';
export { longestStep, readTrace, type TraceReader, traceReader, usualStep } from './read.ts';
export { traceRemark, traceSentences } from './remarks.ts';
export { coursesOf, envelope, poursOf, thinned } from './thin.ts';
export type * from './types.ts';
export { MASS_UNITS, TEMPERATURE_UNITS, TIME_UNITS } from './units.ts';
