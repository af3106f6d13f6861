export * from './compare-runs.ts';
export { type Drift, driftOf, type Learning, learningOf } from './learning.ts';
export { type OwnPace, ownPace, type SpokenTime, spokenTimes } from './own-pace.ts';
export {
  type CueLateness,
  historyOf,
  latenessOf,
  plannedLengths,
  timedRunOf,
  wholeTimes,
} from './run-history.ts';
export { byMoment, type CueTime, plannedEnd, type RunTimes, timesOf } from './run-times.ts';
