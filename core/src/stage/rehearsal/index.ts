export * from './compare-runs.ts';
export { type Drift, driftOf, type Learning, learningOf } from './learning.ts';
export { type OwnPace, ownPace } from './own-pace.ts';
export { type CueLateness, historyOf, latenessOf, plannedLengths, wholeTimes } from './run-history.ts';
export { byMoment, type CueTime, plannedEnd, type RunTimes, timesOf } from './run-times.ts';
