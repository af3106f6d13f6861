export * from './archive.ts';
export * from './bundle.ts';
export * from './check-bundle.ts';
export { MATERIALS, type Material } from './fields.ts';
export type { Batch } from './kinds/batch.ts';
export type { Blend } from './kinds/blend.ts';
export type { Budget } from './kinds/budget.ts';
export type { Campaign } from './kinds/campaign.ts';
export type { Coffee } from './kinds/coffee.ts';
export type { ConcentrateDocument } from './kinds/concentrate.ts';
export {
  type Category,
  type Combination,
  type Contest,
  type OvertimePenalty,
  RULED,
  type Ruled,
  type Ruling,
} from './kinds/contest.ts';
export type { Description } from './kinds/description.ts';
export type { Distribution, Grinder } from './kinds/grinder.ts';
export type { Instrument, SerialLine } from './kinds/instrument.ts';
export type { Mix } from './kinds/mix.ts';
export {
  type Action,
  type Chill,
  type KettleUse,
  MAX_POURS,
  MAX_SECONDS,
  type Plan,
  type Pour,
  pourDuration,
  pourEnd,
  type Serving,
} from './kinds/plan.ts';
export { CUES, type Cue, type Rehearsal, type RunEvent, runEvent } from './kinds/rehearsal.ts';
export type { SaltDocument } from './kinds/salt.ts';
export type { Setup } from './kinds/setup.ts';
export { type Sizing, type SizingData, sizingData } from './kinds/sizing.ts';
export type { RunKettle, TableThing, Talk, TalkPiece } from './kinds/talk.ts';
export type { Tasting, TastingRun, TastingSample, TastingWindow } from './kinds/tasting.ts';
export { type TastingAnswer, tastingAnswer } from './kinds/tasting-answer.ts';
export { type TastingMethod, type TastingTest, TWO_SAMPLE_TESTS } from './kinds/tasting-method.ts';
export {
  COURSE_KINDS,
  type Course,
  type CourseKind,
  MAX_COURSE_POINTS,
  type PouredAs,
  type Tasted,
  TEMPERATURE_PLACES,
  type TemperaturePlace,
  type Trial,
} from './kinds/trial.ts';
export type { Venue } from './kinds/venue.ts';
export type { Water } from './kinds/water.ts';
export type { Words } from './kinds/words.ts';
export * from './problem.ts';
export * from './registry.ts';
export { problemSentences, sentenceOf } from './sentences.ts';
export * from './upgrade.ts';
