export { type Applied, applyLearned, type LearnedValues } from './apply.ts';
export { type LearnFinding, type LearnTone, learnFinding } from './finding.ts';
export { fitTrials } from './fit.ts';
export { gatherTrials } from './gather.ts';
export { learnedFor, predictWith, simulateLearned } from './predict.ts';
export { FIT_SEED, fitHash } from './prepare.ts';
export { LEARNED_PRIORS, NOISE_PRIORS } from './prior.ts';
export { fitSentences } from './sentences.ts';
export * from './types.ts';
