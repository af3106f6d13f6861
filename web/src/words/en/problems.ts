import { problemSentences } from '@pourline/core';

/**
 * The sentences of core's problems as messages, `problem.too_small` and so on, filled with the values of the problem.
 * Core owns the English; a catalogue in another language writes its own under the same keys.
 */
export const problems = Object.fromEntries(
  Object.entries(problemSentences).map(([code, sentence]) => [`problem.${code}`, sentence]),
) as Readonly<Record<`problem.${string}`, string>>;
