export {
  compileLinePattern,
  type LineMatch,
  type LinePattern,
  MAX_PATTERN,
  matchLine,
  type PatternPart,
} from './line-pattern.ts';
export {
  type FedLines,
  feedLines,
  flushLines,
  type LineReading,
  type LineState,
  startLines,
} from './line-reader.ts';
export { proposeLinePattern } from './propose-pattern.ts';
