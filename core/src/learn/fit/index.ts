export { type LearnFinding, type LearnTone, learnFinding } from './finding.ts';
export { fitSentences } from './sentences.ts';
export * from './types.ts';
