import { findingsFrom } from '../difference/finding.ts';

/** English sentences of what to brew next, by code. Other languages translate by code and values. */
export const nextSentences: Readonly<Record<string, string>> = {
  champion: 'Champion: {name}, {figure} {mean} ± {sd} {unit} by what all brews say together.',
  champion_lucky:
    'The highest single value was {name} ({value} {unit}); by what all brews say that was partly luck.',
  next_first: 'Nothing is known yet: brew the middle of the range first ({levels}).',
  next_gain:
    'Next: {changes}. Expected {mean} ± {sd} {unit}; it beats the champion {chance} times in 100, by {gain} {unit} on the whole.',
  next_learn: 'To learn most for the brews that follow: {changes} (expected {mean} ± {sd} {unit}).',
  next_repeat: 'Or brew the champion again: how good it really is is known only to ± {sd} {unit}.',
  next_stop:
    'Stop here: going on is expected to gain {gain} {unit}, less than you could tell apart (brews scatter by {repeat} {unit}). Keep {name}.',
  no_brews_left: 'No brew is left: {grams} g and {minutes} allow none of {dose} g.',
  brews_left: '{brews} more brews fit ({bound}).',
  few_brews:
    '{count} brews for {factors} levels to set: what is said between them leans on smoothness, so spreads are wide.',
  age_counted:
    'The coffee ages: values are carried to today by a drift that is learnt with the rest ({drift} ± {drift_sd} {unit} a day).',
  choices_contradict: 'Some blind choices contradict each other; they count as taste being uncertain.',
  pair: 'Pour side by side: {champion} against {challenger}. The challenger wins {chance} times in 100 if what is known holds.',
  pair_order: 'Serve in the order {order}; the next pair the other way round.',
  pair_decide:
    'With one pair nothing is settled: it takes {wins} wins in a row, or {most} of {of}, before "better" is more than a coin.',
  information_best: '{name} teaches most for its coffee: {bits} bits for {grams} g.',
  information_none:
    'None of these brews would teach anything: all that is believed predicts the same figures for each.',
  // Unknown coffee, so many minutes.
  dial_in_brews:
    '{brews} brews fit in {minutes} minutes, bound by {bound}; {used} g for practice, {kept} g kept for {cups} cups and {spare} spare.',
  dial_in_none: 'Not one brew fits: it takes {needed} minutes and {grams} g.',
  dial_in_grams_short: '{grams} g are not enough for serving alone, which takes {needed} g.',
  dial_in_first: 'Brew 1 at the middle of every range: strength, time and taste of it say which way to go.',
  dial_in_overlap:
    'Each cup is tasted {cool} after its brew, while the next one runs: brew {k} starts with brews up to {known} tasted.',
  dial_in_explore: 'With {brews} change {factors} together by a small design, so that each counts for all.',
  dial_in_choose: 'What is known then says what to change for {brews}; ask again after every cup.',
  dial_in_confirm:
    'Last, the best once more: if it is as good again, brew that on stage; if not, the one before it.',
  dial_in_stop: 'Stop earlier when the next brew is expected to gain less than you can taste.',
  dial_in_tight: 'The last cup is tasted {slack} before practice closes: one spill and it is gone.',
  dial_in_care:
    'Sip, do not drink up: {brews} cups in {minutes} minutes, and nothing above 65 °C (very hot drinks: IARC, volume 116).',
};

/** A finding about what to brew next. */
export const nextFinding = findingsFrom(nextSentences);
