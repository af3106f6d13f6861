import { PLAIN_TESTS } from './differences.ts';
import { PLAIN_JUDGES } from './judges.ts';
import type { PlainKind } from './kind.ts';
import { PLAIN_OVER_TIME } from './over-time.ts';
import { PLAIN_RATINGS } from './ratings.ts';
import { PLAIN_SERVING } from './serving.ts';
import { PLAIN_WORDS } from './words.ts';

export type { PlainAnswer, PlainKind } from './kind.ts';

/** Every statistic of a panel that takes a table typed by hand, by name. */
export const PLAIN_PANEL: Readonly<Record<string, PlainKind>> = {
  ...PLAIN_TESTS,
  ...PLAIN_RATINGS,
  ...PLAIN_JUDGES,
  ...PLAIN_WORDS,
  ...PLAIN_OVER_TIME,
  ...PLAIN_SERVING,
};
