/** English sentences of everything a fit has to say, by code. Other languages translate by code and values. */
export const fitSentences: Readonly<Record<string, string>> = {
  // Why there is no fit.
  no_trials:
    'There is no trial of {coffee} to learn from. Log a brew with its strength, its mass or its drawdown.',
  no_trials_at_all:
    'There is no trial to learn from. Log a brew with its strength, its mass or its drawdown.',
  no_such_coffee: 'There is no coffee "{coffee}". Choose one of: {coffees}.',
  choose_coffee: 'There are trials of {count} coffees. A fit is of one: choose one of {coffees}.',
  nothing_to_learn_from:
    '{trials} trials of {coffee} were found, and none holds a figure that can be used. {reason}',
  not_a_fit: 'This is not a fit as `fit --json` writes it. {where}',
  fit_of_other_version:
    'This fit was made by version {theirs} and does not go with version {ours}. Make it again.',
  // What was left out, and why.
  other_coffee: '{count} trials of other coffees were left out: {coffees}.',
  not_counted: '"{trial}" was left out: it is marked as a brew that went wrong.',
  plan_missing: '"{trial}" was left out: its plan is not in this campaign, and it keeps no copy of it.',
  plan_broken: '"{trial}" was left out: {reason}',
  nothing_measured:
    '"{trial}" was left out: nothing was measured that can be used. Strength, beverage, drawdown or temperatures would do.',
  beverage_impossible:
    '"{trial}": a beverage of {beverage} g is more than the {water} g of water that went in. It was not used; was the server weighed along?',
  yield_impossible:
    '"{trial}": a strength of {strength} % would mean that {yield} % of the dose is in the cup; more than {limit} % cannot be. It was not used; check strength, beverage and dose.',
  brewed_before_roast:
    '"{trial}" was brewed before the day of roasting ({roasted}). Its age was not used; correct one of the two.',
  age_unknown:
    'Nobody knows how old the coffee was in {count} of {trials} trials, so they say nothing of ageing. Give the coffee its roast date.',
  figure_not_computed:
    '"{trial}": {figure} was measured, but this plan as computed has none. It was not used; was the plan brewed as written?',
  // How many.
  calibrated: 'Calibrated on {trials} trials of {coffee}.',
  one_trial:
    'One trial cannot tell what is the coffee and what was this brew. Brew it once more, the same or with one thing changed.',
  // What was and was not learned.
  not_learned: 'These trials do not say {parameter}: it stays as little known as before. {advice}',
  correlated:
    '{first} and {second} cannot be told apart by these trials (correlation {correlation}): one can make up for the other. {advice}',
  beyond_default:
    '{parameter} comes out at {value}, outside what was thought plausible ({low} to {high}). {advice}',
  noise_large:
    'Brews that should be alike differ by {noise} in {channel}, more than brews do ({usual} is usual). These trials contradict each other, or something that changed was not noted: grind, paper, hands, units.',
  surprise:
    '"{trial}": {figure} was {measured}, and {low} to {high} was to be expected. It counts for {weight} % of an ordinary figure. Look whether it was typed right.',
  meter_goes_in:
    'A constant error of the refractometer goes into the extractable share: figures are right for cups read with the same one.',
  // How far the computation can be trusted.
  rough_model:
    'The short form of the engine used here is off by {error} of the usual noise at the edges of what is plausible: take the bands with care.',
  sampler_unsure:
    'The two ways to compute the spread do not agree well here ({detail}): take the bands with care.',
  // Of a prediction.
  predicts_other_coffee:
    'These trials are of {coffee}; {other} has its own extractable share and rate. Only setup and grinder were taken over.',
  predicts_new_setup: '{setup} was in none of these trials: it may differ from those that were.',
  predicts_new_grinder: '{grinder} was in none of these trials: its sizes were taken as measured.',
  predicts_age_unknown:
    'The plan does not say how old the coffee will be; {days} days were taken, as in the trials.',
};
