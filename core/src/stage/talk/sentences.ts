/** What is said of a talk, of running over, and of being late. */
export const talkSentences: Readonly<Record<string, string>> = {
  talk_empty: 'There is nothing to say yet; all of {limit} is free.',
  talk_fits: 'The talk fits: the last word is said at {ends}, with {reserve} s to spare.',
  talk_too_long: 'The talk does not fit: it would end at {ends}, and the limit is {limit}: {over} s over.',
  talk_pins:
    'The talk cannot be placed at all: pinned sentences, their order and the silences contradict each other. Let one of them float.',
  cuts_needed: 'It fits without: {what}. That saves {seconds} s.',
  cuts_not_enough:
    'Even all that may be cut ({seconds} s) is not enough. Mark more that may be cut, or unpin something.',
  late_keep: 'Go on as planned: ends at {ends}, costs {points} points.',
  late_option: 'Leave out {what}: ends at {ends}, costs {points} points in all.',
  late_disqualified: '{option} The run would be stopped: {over} s over is past the hard stop.',
  late_lags: 'Whatever is left out, {count} waits can no longer be kept: {which}.',
  budget_left: '{left} g are left for {brews} brews to search with.',
  budget_short: '{short} g are missing. Do less of: {what}; or roast {green} g more green.',
  batch_short: 'Batch "{batch}" is {short} g short of what is meant for it.',
};
