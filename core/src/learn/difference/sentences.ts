import { findingsFrom } from './finding.ts';

/** English sentences of what brews have to say about each other, by code. Other languages translate by code and values. */
export const differenceSentences: Readonly<Record<string, string>> = {
  // The verdict.
  brews_clear: 'Clear: {figure} of {b} is {size} {unit} {side} than of {a} ({mean_b} against {mean_a}).',
  brews_maybe:
    'Maybe: {figure} of {b} came out {size} {unit} {side} than of {a} ({mean_b} against {mean_a}).',
  brews_same:
    'The same, for your purpose: {figure} of {b} and {a} lie within {limit} {unit} of each other (p {p}; interval {low} to {high} {unit}).',
  brews_not_shown:
    'No difference shown: {figure} of {b} came out {size} {unit} {side} than of {a} ({mean_b} against {mean_a}). That does not show that they are the same: anything from {low} to {high} {unit} fits.',
  brews_cannot:
    'Nothing can be settled with {count_a} + {count_b} brews: even if every brew of one plan were above every brew of the other, handing out the plans at random would do as well {chance} (p {least}). {figure} of {b} came out {size} {unit} {side} than of {a} ({mean_b} against {mean_a}).',
  differ_but_same: 'They do differ (p {p}), but by less than you care about.',
  // What it rests on.
  test_alone:
    'From these {count} brews alone so large a difference comes by chance {chance} (p {p}; scatter from brew to brew {sd} {unit}).',
  test_exact: 'Handing out the plans to these brews in every way: {chance} as far apart (p {p}).',
  test_exact_bounded:
    'Handing out the plans to these brews in every way: {chance} as far apart (p {p}); with {count_a} + {count_b} brews it could not be rarer than p {least}, so these brews alone settle nothing at a level of {alpha}.',
  test_drawn: 'Handing out the plans to these brews at random {draws} times: {chance} as far apart (p {p}).',
  history_passes:
    'With your usual scatter of {sd} {unit} it passes: two standard errors are {limit} {unit} (p {p}).',
  history_just_passes:
    'With your usual scatter of {sd} {unit} it just passes: two standard errors are {limit} {unit} (p {p}). That leans on these brews being as steady as usual.',
  history_fails:
    'With your usual scatter of {sd} {unit} it does not pass: two standard errors are {limit} {unit} (p {p}).',
  history_does_not_fit:
    'These brews scatter by {own} {unit}, your usual is {sd} {unit}: that is hardly chance (p {p}), so the usual scatter is not leant on here.',
  test_mixed:
    'With sittings taken as chance (scatter between them {session_sd} {unit}): {mixed_size} {unit}, p {p}.',
  below_measurement:
    'These brews scatter less ({own} {unit}) than the measurement alone would make them ({doubt} {unit}); that is luck, so the measurement is counted.',
  measurement_rules:
    'Most of the scatter is the measurement ({doubt} of {sd} {unit}): more readings of each cup help more than more brews.',
  // What went along with the plan.
  age_confounded:
    'The coffee was {days} days {older} for {b}, and age changed together with the plan: a drift of {drift} {unit} a day would explain all of it. These brews cannot tell which it was.',
  age_taken_out: 'A steady drift with age was fitted and taken out; it cost one degree of freedom.',
  drift_taken_out:
    'The known drift with age ({drift} ± {drift_sd} {unit} a day) was taken out, its uncertainty counted.',
  age_unknown: 'The age of the coffee is not known for all brews; if it differed, it is in the difference.',
  session_confounded:
    'Each plan was brewed in sittings of its own: water, air, hands and the coffee of that day are in the difference too.',
  panel_different:
    'The panel: {correct} of {answers} right; by guessing {chance} (p {p}). It says different, not better.',
  panel_not_shown:
    'The panel: {correct} of {answers} right; by guessing {chance} (p {p}). No difference shown.',
  panel_cannot:
    'The panel: {correct} of {answers} right (p {p}); with {answers} answers not even all right would reach a level of {alpha}.',
  // What to do.
  repeat:
    'Brew both again in one sitting, {each} + {each}, in the order {order}{cost}. Alone they show differences from {limit} {unit}; together with the brews there are, an exact test can then reach p {least}.',
  repeat_too_many:
    'At this scatter it would take more than {most} brews of each to settle so small a difference: is it worth knowing?',
  // Before brewing.
  can_show:
    '{count_a} + {count_b} brews{cost} find a difference of {size} {unit} with a chance of {power} %, trusting a scatter of {sd} {unit}.',
  can_show_alone:
    'Judged by these brews alone, without trusting earlier scatter, it takes a difference of {size} {unit}.',
  can_show_nothing_alone: 'Judged alone, so few brews say nothing about their own scatter.',
  exact_cannot:
    'An exact test of {count_a} + {count_b} brews cannot go below p {least}: without a trusted scatter nothing can be settled at a level of {alpha}. It takes {fewest} of each.',
  wanted_chance: 'A difference of {wanted} {unit} will be found {chance} times in 100.',
  wanted_needs: 'For a chance of {power} % it takes {needed} of each{cost}.',
  wanted_needs_too_many: 'Not even {most} of each would find it with a chance of {power} %.',
  // Cups of one set.
  cups_same:
    '{figure}: the same. The cups lie within {range} {unit}; up to {limit} {unit} nobody would notice.',
  cups_usual: '{figure}: as usual. The cups lie within {range} {unit}; {share} of your own sets are worse.',
  cups_clear:
    '{figure}: not the same. The cups lie {range} {unit} apart; with your usual hand that happens {chance} (p {p}).',
  cups_maybe: '{figure}: perhaps less even than usual. The cups lie {range} {unit} apart (p {p}).',
  cups_no_history:
    '{figure}: the cups lie {range} {unit} apart. {count} cups alone say little: the scatter of your hand may be anything from {sd_low} to {sd_high} {unit}. Log more sets to compare with.',
  cups_over_limit: '{figure}: {range} {unit} apart, more than the {limit} {unit} that nobody would notice.',
  cups_measurement:
    '{figure}: {range} {unit} apart is within what the measurement makes of equal cups ({doubt} {unit} each).',
  cups_one: '{figure}: fewer than two cups were measured.',
  odd_cup: '{figure}: cup {cup} stands out, {away} {unit} {side} the mean of the others (p {p}).',
  // Which pour.
  pour_blamed:
    '{cup}: pour {pour} is the likeliest cause ({chance} times in 100): {slips} against the other cups, which by the engine makes {moved}.',
  pour_perhaps:
    '{cup}: perhaps pour {pour} ({chance} times in 100): {slips} against the other cups, which by the engine makes {moved}. Something not measured is as likely.',
  pour_none:
    '{cup}: no measured pour explains it (something else {chance} times in 100): look at grind, bed, dose and water temperature.',
  pour_even: '{cup}: differs from the others by no more than the measurement.',
  pours_missing: '{cup}: {count} of {all} pours were not measured; they count among what is not known.',
};

/** A finding about brews that were compared. */
export const differenceFinding = findingsFrom(differenceSentences);
