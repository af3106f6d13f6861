export { planDialIn } from './dial-in.ts';
export {
  augmentedImprovement,
  expectedImprovement,
  improvementChance,
  logImprovement,
  noisyImprovement,
  targetImprovement,
} from './improvement.ts';
export { expectedInformation } from './information.ts';
export { type ChampionPair, championPair } from './pair.ts';
export { PLAIN_NEXT } from './plain.ts';
export { nextSentences } from './sentences.ts';
export { brewsLeft, suggestNext } from './suggest.ts';
export * from './types.ts';
