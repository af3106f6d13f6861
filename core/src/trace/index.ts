export * from './look.ts';
export { longestStep, readTrace, type TraceReader, traceReader, usualStep } from './read.ts';
export { traceRemark, traceSentences } from './remarks.ts';
export type * from './types.ts';
export { MASS_UNITS, TEMPERATURE_UNITS, TIME_UNITS } from './units.ts';
