/** What core has to say of a run, by code; the words are those of core until a language says them otherwise. */
export const stageRemarks = {
  'remark.stage_rule_allowed': '{thing}: allowed.{note}',
  'remark.stage_rule_forbidden': '{thing}: not allowed.{note}',
  'remark.stage_ask_rule': '{thing}: the rules typed here do not say. Ask at the briefing.{note}',
  'remark.stage_within_limit': '{thing} {value}: within {limit}.',
  'remark.stage_over_limit': '{thing} {value}: the rules allow {limit} at most.',
  'remark.stage_ask_limit': '{thing} {value}: no upper limit is known. Ask at the briefing.',
  'remark.stage_above_least': '{thing} {value}: at least {limit} is asked.',
  'remark.stage_under_least': '{thing} {value}: the rules ask for at least {limit}.',
  'remark.stage_ask_least': '{thing} {value}: no least amount is known. Ask at the briefing.',
  'remark.stage_cups_right': '{value} cups, as the rules ask.',
  'remark.stage_cups_wrong': '{value} cups are planned; the rules ask for {wanted}.',
  'remark.stage_ask_cups':
    '{value} cups are planned; how many the rules ask for is not known. Ask at the briefing.',
  'remark.stage_individual_right': 'How the cups are brewed is within the rules.',
  'remark.stage_individual_wrong':
    'Each cup must be brewed by itself; the plan shares one brew among several.',
  'remark.stage_ask_individual':
    'Whether each cup must be brewed by itself is not known. Ask at the briefing.',
  'remark.stage_frozen': '{thing}: may not be touched any more once set-up is over.',
  'remark.stage_not_frozen': '{thing}: may still be touched after set-up.',
  'remark.stage_ask_frozen': '{thing}: what is frozen after set-up is not known. Ask at the briefing.',
  'remark.stage_ask_penalty': 'What running over costs is not known. Ask at the briefing.',
  'remark.stage_brewers_fit':
    'Possible: {brewers} brewers, no clash, all done at {ends}. The first pour may be as late as {latest}.',
  'remark.stage_brewers_do_not_fit':
    'Not possible: {brewers} brewers cannot be poured like this. Largest number that can: {largest}.',
  'remark.stage_brewers_open':
    'Not found: no schedule for {brewers} brewers came up, and none has been excluded. Largest number found: {largest}.',
  'remark.stage_largest_not_proven':
    'That {largest} is the most is not proven: the search for one more ended without an answer.',
  'remark.stage_scales_few':
    '{scales} scales for {brewers} brewers: a brewer can only begin when one before it has drained.',
  'remark.stage_pours_cooler':
    '{count} pours leave the kettle cooler than asked; the coolest is {id} from {kettle}: {is} °C instead of {asked} °C.',
  'remark.stage_hands_sum':
    '{one} s of pouring and moving × {brewers} brewers = {sum} s, more than the {gap} s between pours.',
  'remark.stage_one_pour_too_long': 'One pour takes {seconds} s; the limit is {limit} s.',
  'remark.stage_way_gaps': '{brewers} brewers fit with {first} s from pour to pour.',
  'remark.stage_way_flow': '{brewers} brewers fit when pouring at {flow} g/s or faster.',
  'remark.stage_way_pour': '{brewers} brewers fit with pours of {grams} g or less.',
  'remark.stage_way_scales': '{brewers} brewers fit with a scale under each.',
  'remark.stage_way_helper': '{brewers} brewers fit with a helper who has a kettle.',
  'remark.stage_way_one_after_another':
    '{brewers} brewers fit when they need not run alongside each other; all done at {ends}.',
  'remark.stage_way_fewer': '{largest} of {brewers} brewers fit as it is.',
  'remark.stage_no_way':
    'None of the usual changes alone helps: longer waits, faster or smaller pours, a helper, fewer brewers. Look at the limit of {limit} first.',
  'remark.stage_water_short':
    '{needed} g are poured in all and the kettles give {usable} g: top up by {missing} g, or have another kettle.',
  'remark.stage_scald': 'The water scalds: keep hands and cables clear when kettles change places.',
  'remark.stage_never_hot':
    '{name} never gets {asked} °C hot: with {power} W it ends at {most} °C, where it loses what it takes in.',
  'remark.stage_hot_too_late': '{name} needs {takes} to {asked} °C with {power} W; it has {within}.',
  'remark.stage_above_boiling':
    '{name} is asked for {asked} °C; water boils at {boils} °C here. Ask for {boils} °C or less.',
  'remark.stage_power_needed':
    '{name} is {asked} °C hot within {within} with {need} W or more; or start it hotter, or with less water.',
  'remark.stage_circuit_too_weak':
    '{name} draws {need} W and circuit "{circuit}" has {limit} W left. Use another circuit.',
  'remark.stage_circuits_take_turns': 'Kettles on one circuit take turns; that costs {seconds} s.',
  'remark.stage_all_hot_in_time': 'All kettles are hot at {ready}, within {within}.',
  'remark.stage_all_hot_late': 'All kettles are hot at {ready} only; there is time until {within}.',
  'remark.stage_talk_empty': 'There is nothing to say yet; all of {limit} is free.',
  'remark.stage_talk_fits': 'The talk fits: the last word is said at {ends}, with {reserve} s to spare.',
  'remark.stage_talk_too_long':
    'The talk does not fit: it would end at {ends}, and the limit is {limit}: {over} s over.',
  'remark.stage_talk_pins':
    'The talk cannot be placed at all: pinned sentences, their order and the silences contradict each other. Let one of them float.',
  'remark.stage_cuts_needed': 'It fits without: {what}. That saves {seconds} s.',
  'remark.stage_cuts_not_enough':
    'Even all that may be cut ({seconds} s) is not enough. Mark more that may be cut, or unpin something.',
  'remark.stage_late_keep': 'Go on as planned: ends at {ends}, costs {points} points.',
  'remark.stage_late_option': 'Leave out {what}: ends at {ends}, costs {points} points in all.',
  'remark.stage_late_disqualified': '{option} The run would be stopped: {over} s over is past the hard stop.',
  'remark.stage_late_lags': 'Whatever is left out, {count} waits can no longer be kept: {which}.',
  'remark.stage_budget_left': '{left} g are left for {brews} brews to search with.',
  'remark.stage_budget_short': '{short} g are missing. Do less of: {what}; or roast {green} g more green.',
  'remark.stage_batch_short': 'Batch "{batch}" is {short} g short of what is meant for it.',
  'remark.stage_cups_apart':
    'When the last cup is served, at {at}, the cups are between {low} and {high} °C.',
  'remark.stage_cups_very_hot':
    'A cup is served at {hottest} °C. Above {limit} °C it can burn the mouth: let it cool, or warn the guest.',
  'remark.stage_cups_not_cold':
    'No cup is below {cold} °C before {limit}: what you say of the cold cup is tasted after the run, or needs a smaller or wider cup.',
  'remark.stage_jar_light': 'Jar {name} holds {weighed} g: {off} g less than the {target} g that it should.',
  'remark.stage_jar_heavy': 'Jar {name} holds {weighed} g: {off} g more than the {target} g that it should.',
  'remark.stage_jar_missing': 'There is no jar for brewer {brewers}.',
  'remark.stage_jar_no_spare': 'There is no spare jar.',
  'remark.stage_pin_lost': '"{title}" is pinned to something that is not in the schedule; it floats.',
  'remark.stage_pin_release': 'It can be placed when "{title}" floats.',
  'remark.stage_number_false': '"{title}" says {said}; its source says {now} ({from}).',
  'remark.stage_number_old': '"{title}" says {said}; that was measured on another brew ({from}).',
  'remark.stage_number_unknown': '"{title}" speaks of {name}, and nothing stands behind it.',
  'remark.stage_number_loose': '"{title}" holds numbers with nothing behind them: {numbers}.',
  'remark.stage_no_prediction': 'The plan could not be predicted: {why}',
  'remark.stage_live_no_pours':
    '{plan} has no pours yet, so there is nothing to follow. Add a pour at the Brew desk.',
  'remark.stage_live_no_time': 'The time allowed is {limit}. Give the run more than 0 s.',
  'remark.stage_live_fits': 'All done at {ends}, {spare} s before the limit of {limit}.',
  'remark.stage_live_over':
    'All done at {ends} only: {over} s over the limit of {limit}. Leave something out, or allow more time.',
  'remark.stage_live_more_give': 'Or let pours begin later than planned: now they may by {give} s.',
  'remark.stage_live_nothing':
    'There is nothing to do in this run: no pours and nothing to say. Add some first.',
} as const;
