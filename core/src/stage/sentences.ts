import { brewerSentences } from './brewers/sentences.ts';
import { liveSentences } from './live/sentences.ts';
import { runSentences } from './run/sentences.ts';
import { talkSentences } from './talk/sentences.ts';

/** English sentences of everything the stage has to say, by code. Other languages translate by code and values. */
export const stageSentences: Readonly<Record<string, string>> = {
  // Rules of a contest.
  rule_allowed: '{thing}: allowed.{note}',
  rule_forbidden: '{thing}: not allowed.{note}',
  ask_rule: '{thing}: the rules typed here do not say. Ask at the briefing.{note}',
  within_limit: '{thing} {value}: within {limit}.',
  over_limit: '{thing} {value}: the rules allow {limit} at most.',
  ask_limit: '{thing} {value}: no upper limit is known. Ask at the briefing.',
  above_least: '{thing} {value}: at least {limit} is asked.',
  under_least: '{thing} {value}: the rules ask for at least {limit}.',
  ask_least: '{thing} {value}: no least amount is known. Ask at the briefing.',
  cups_right: '{value} cups, as the rules ask.',
  cups_wrong: '{value} cups are planned; the rules ask for {wanted}.',
  ask_cups: '{value} cups are planned; how many the rules ask for is not known. Ask at the briefing.',
  individual_right: 'How the cups are brewed is within the rules.',
  individual_wrong: 'Each cup must be brewed by itself; the plan shares one brew among several.',
  ask_individual: 'Whether each cup must be brewed by itself is not known. Ask at the briefing.',
  frozen: '{thing}: may not be touched any more once set-up is over.',
  not_frozen: '{thing}: may still be touched after set-up.',
  ask_frozen: '{thing}: what is frozen after set-up is not known. Ask at the briefing.',
  ask_penalty: 'What running over costs is not known. Ask at the briefing.',
  ...brewerSentences,
  ...talkSentences,
  ...runSentences,
  ...liveSentences,
};
