/**
 * English sentences of everything a panel's results have to say, by code. Other languages translate by code and values.
 */
export const findingSentences: Readonly<Record<string, string>> = {
  // Before pouring.
  difference_cannot_reach:
    'Not with these cups: even if all {total} answers were right, guessing does as well {chance}. At a level of {alpha} it takes at least {fewest} answers. Pour more before you taste.',
  difference_reach: '{least} or more right answers of {total} will show a difference at a level of {alpha}.',
  power_of: 'A difference of {effect} will be found with a chance of {power} %.',
  power_low:
    'A difference of {effect} will be missed {missed} times in 100. {first} answers find it with a chance of {wanted} %; from {stable} on, any number does.',
  power_never:
    'A difference of {effect} would need more than {most} answers to be found with a chance of {wanted} %.',
  similarity_cannot_reach:
    'Not with these cups: even if nobody were right, {total} answers cannot show, at a level of {alpha}, that fewer than {limit} % can tell the cups apart. It takes more answers.',
  similarity_reach:
    '{most} or fewer right answers of {total} will show that fewer than {limit} % can tell the cups apart, at a level of {alpha}.',
  similarity_power: 'With in truth {effect}, likeness will be shown with a chance of {power} %.',
  similarity_size: 'It takes {first} answers for a chance of {wanted} %; from {stable} on, any number does.',
  similarity_never: 'Not even {most} answers would give a chance of {wanted} %.',
  similarity_expects_below_guessing:
    'Guessing alone gives {guessed} of {total}; to get {most} or fewer is luck. It takes more answers for a fair chance.',
  ranking_cannot_reach:
    'Not with {tasters} tasters and {cups} cups: even if all agree, that happens by chance {chance}. At a level of {alpha} it takes at least {fewest} tasters.',
  ranking_reach:
    'With {tasters} tasters and {cups} cups full agreement happens by chance {chance}: enough to show something at a level of {alpha}.',
  panel_too_small:
    'With {tasters} tasters and {cups} cups nothing can be said of what other tasters would find; it takes at least 2 of each.',
  a_not_a_reach:
    'With {total} answers a difference can be shown at a level of {alpha}, if nearly all are right.',
  sips: 'Each taster sips {sips} cups in this test.',
  orders_balanced:
    'Balanced: every cup stands equally often in each place and follows every other equally often.',
  not_each_once: 'Not balanced: row {row} does not hold every cup exactly once.',
  places_uneven:
    'Not balanced: {cup} stands {times} times in place {place}, others as seldom as {fewest} times.',
  neighbours_uneven:
    'Not balanced: {after} comes right after {before} {times} times, other pairs as seldom as {fewest} times. Taste carries over from cup to cup; use a Williams design.',
  // Difference tests.
  difference_clear:
    'Different. {correct} of {total} right; by guessing that happens {chance} (p {p}). It says different, not better.',
  difference_maybe:
    'Maybe different. {correct} of {total} right; by guessing that happens {chance} (p {p}), not rare enough for a level of {alpha}.',
  difference_not_shown:
    'Not shown. {correct} of {total} right; by guessing that happens {chance} (p {p}). This does not show that the cups are the same: up to {high} % of tasters may tell them apart.',
  difference_level_unreachable:
    'Nothing can be said. With {total} answers even all right would not reach a level of {alpha}; it takes {fewest}.',
  preference_clear:
    'Preferred. {most} of {total} chose the same cup; with no preference so one-sided a count, either way, happens {chance} (p {p}).',
  preference_maybe:
    'Maybe preferred. {most} of {total} chose the same cup; with no preference so one-sided a count, either way, happens {chance} (p {p}), not rare enough for a level of {alpha}.',
  preference_not_shown:
    'No preference shown. {most} of {total} chose the same cup; with no preference so one-sided a count, either way, happens {chance} (p {p}).',
  size: 'Size: d′ {d}, with {level} % confidence from {low} to {high} ({kind} interval).',
  size_open:
    'Size: every answer is right, so d′ has no upper end; with {level} % confidence it is at least {low} ({kind} interval).',
  decided: 'Decided; no more cups are needed.',
  more_cups:
    '{more} more answers, {needed} of them right, would decide it; if the difference is as large as assumed ({effect}), the chance of that is {chance} %. Fix the number now: looking twice lets guessing pass {alarm} times in 100.',
  more_cups_never: 'At the assumed difference ({effect}) not even {most} more answers would decide it.',
  similarity_clear:
    'Alike enough. {correct} of {total} right; if {limit} % could tell the cups apart, so few would happen {chance} (p {p}).',
  similarity_maybe:
    'Maybe alike enough. {correct} of {total} right; if {limit} % could tell the cups apart, so few would happen {chance} (p {p}), not rare enough for a level of {alpha}.',
  similarity_not_shown:
    'Likeness not shown. {correct} of {total} right; if {limit} % could tell the cups apart, so few would happen {chance} (p {p}). This does not show that they differ either.',
  tasters_differ:
    'The tasters are not alike (p {p}): intervals are those of the tasters, not of pooled answers.',
  tasters_alike: 'No sign that the tasters differ in skill (p {p}).',
  a_not_a_adjusted: 'A share was 0 or all; half an answer was added to each cell so that d′ is finite.',
  compare_cannot: 'Fewer than two of these tests have a size with an error, so they cannot be compared.',
  compare_clear: 'The tests do not agree on the size of the difference (p {p}).',
  compare_not_shown: 'The tests agree as far as they can tell (p {p}): together d′ {d} ± {se}.',
  // Rankings and preferences.
  ranking_clear:
    'The cups are ranked differently (p {p}, {how}). Agreement of the tasters, 0 to 1: {concordance}.',
  ranking_maybe:
    'Perhaps a ranking (p {p}, {how}), not rare enough for a level of {alpha}. Agreement of the tasters, 0 to 1: {concordance}.',
  ranking_not_shown: 'No ranking is shown (p {p}, {how}). Agreement of the tasters, 0 to 1: {concordance}.',
  ranking_level_unreachable:
    'Nothing can be said. With {tasters} tasters and {cups} cups not even full agreement reaches a level of {alpha}; it takes {fewest} tasters.',
  pair_apart: '{first} and {second} differ: rank sums {difference} apart, {least} needed.',
  page_clear: 'The cups rise in the predicted order (p {p}, {how}).',
  page_not_shown: 'The predicted order is not shown (p {p}, {how}).',
  worth_clear:
    '{first} is preferred to {second} (p {p}): it wins {share} times in 100, taking part in no tie.',
  worth_not_shown: '{first} against {second}: no preference shown (p {p}).',
  worth_penalised:
    'Some cups won or lost everything, so plain estimates would run to infinity. The ones shown are bias-reduced; they say who is ahead, less how far.',
  order_matters: 'The cup served {place} has an advantage (p {p}): keep serving both orders.',
  // Panel scores.
  panel_clear:
    'The cups are scored differently, and not only by these tasters (F {f} on {df1} and {df2}, p {p}).',
  panel_maybe:
    'Perhaps the cups are scored differently (F {f} on {df1} and {df2}, p {p}), not clear enough for a level of {alpha}.',
  panel_not_shown:
    'No difference of the cups is shown that would hold for other tasters (F {f} on {df1} and {df2}, p {p}).',
  windows_differ: 'The cups differ otherwise in one window than in another (p {p}): look at each window.',
  means_apart: '{first} is above {second} by {difference} (p {p}, corrected for the number of pairs).',
  panel_least: 'Two cups differ when their means are {least} apart.',
  tasters_see_otherwise: 'Tasters see different differences (p {p}): look at each one.',
  does_not_tell_apart: '{taster} does not tell the cups apart (p {p}), although others do.',
  compresses_scale: '{taster} uses little of the scale: {slope} steps where the others use one.',
  stretches_scale: '{taster} uses much of the scale: {slope} steps where the others use one.',
  disagrees: '{taster} orders the cups otherwise than the others (correlation {correlation}).',
  repeats_poorly: '{taster} repeats less well than the others (standard deviation of repeats {sd}).',
  judges_not_linked:
    'These scores fall into {groups} groups that no judge or cup links, so their levels cannot be compared. Let one judge score a cup of each group.',
  profiles_clear:
    'The tasters see the same picture of the cups (p {p}): it keeps {share} % of what they wrote down.',
  profiles_not_shown:
    'No common picture of the cups is shown (p {p}): profiles at random would lie over one another as well.',
  profile_apart: '{taster} sees another picture: {share} % of all that is left over is of this taster.',
  profiles_flat: 'A profile in which every cup is the same has no picture. Leave that taster out.',
  // Words.
  word_clear: '"{word}" is ticked for some cups more than for others (p {p}, corrected for {asked} words).',
  word_not_shown: '"{word}": no difference of the cups shown (p {p}, corrected for {asked} words).',
  words_cannot_reach:
    'Word by word nothing can be said: with {tasters} tasters, {cups} cups and {asked} words not even full agreement on one word reaches a level of {alpha}. Ask for fewer words, or more tasters.',
  described_clear: 'The cups are described differently (p {p}).',
  described_not_shown: 'No difference of the descriptions is shown (p {p}).',
  jar_acts:
    '{share} % find {side}; they like the cup {drop} less (p {p}). Putting it right is worth up to {weighted}.',
  jar_few: '{share} % find {side}: too few to act on (less than {limit} %).',
  jar_untested: '{share} % find {side}, and too few answers stand against each other to say what it costs.',
  jar_cannot_reach:
    '{share} % find {side}: {here} answers against {right} cannot reach a level of {alpha}, however far apart they are.',
  jar_not_shown: '{share} % find {side}; that it costs liking is not shown (p {p}).',
  temporal_clear:
    'The cups differ over time (p {p}): most for "{word}" at {time}, by {difference} points of 100.',
  temporal_not_shown:
    'No difference over time is shown (p {p}); the largest is for "{word}" at {time}, {difference} points of 100.',
  temporal_cannot_reach:
    'With {tasters} tasters not even full agreement reaches 0.05 here; it takes at least 6.',
  // The description.
  word_keep: '{window}: keep "{word}" ({found} of {tasters} found it).',
  word_widen:
    '{window}: widen "{word}" ({found} of {tasters}) to "{to}" ({found_wide} of {tasters}): {gain} points more to be expected.',
  word_narrow:
    '{window}: "{word}" may become "{to}" ({found_narrow} of {tasters} found that): {gain} points more to be expected.',
  word_drop: '{window}: drop "{word}" ({found} of {tasters} found it); saying nothing scores better.',
  statement_keep: '{name}: "{said}" stands ({agree} of {tasters}).',
  statement_change:
    '{name}: say "{to}" ({agree_to} of {tasters}) rather than "{said}" ({agree} of {tasters}): {gain} points more to be expected.',
  statement_close:
    '{name}: "{to}" and "{other}" are within {gap} points of each other; {tasters} tasters cannot decide it.',
  description_points:
    'Expected points {version}: {points} ± {doubt} (what {tasters} tasters leave open), one panel of {judges} judges spreads by ± {spread}.',
  description_gain:
    'The proposed words bring {gain} points more than what is said now; chance that they are better {chance} %.',
  few_tasters:
    'All shares rest on {tasters} tasters: {found} of {tasters} can mean {low} to {high} % of people. Do not read small differences.',
  venue_age:
    'Tasted at {tasted} days after roasting, served at {venue}: taste again at that age before the words are fixed.',
  offset_of: '{taster} scores {offset} {side} the others on {name}.',
  // Care.
  minor_refused:
    '{taster} is {age}: tasting is for adults of {limit} and over. For minors too little is known about caffeine (EFSA 2015).',
  age_missing: '{taster}: say that you are {limit} or over before tasting.',
  occasion_limit:
    '{taster} has had up to {mg} mg of caffeine within {hours} h; the next cup could pass {limit} mg (EFSA 2015, single dose). Pause. This is a caution, not medical advice.',
  day_limit:
    '{taster} has had up to {mg} mg of caffeine today; the next cup could pass {limit} mg (EFSA 2015). Stop for today. This is a caution, not medical advice.',
  caffeine_left: '{taster}: about {cups} more cups of this kind until {limit} mg.',
  late_caffeine: '100 mg close to bedtime may make falling asleep harder for some (EFSA 2015).',
  spit_unknown:
    'How much is taken up when coffee is spat out has not been measured; {share} % is your own assumption.',
  too_hot:
    'The cup is {celsius} °C: nobody sips above {limit} °C (very hot drinks: IARC, volume 116). Wait about {minutes} min.',
  too_hot_plain:
    'The cup is {celsius} °C: nobody sips above {limit} °C (very hot drinks: IARC, volume 116). Wait.',
  hot: 'The cup is {celsius} °C: small sips; {advised} °C or less is advised.',
  allergen: '{taster} does not get {sample}: it may carry {allergens}.',
  ask_care: "{taster}: {flag} was noted. Ask before serving; local rules and a doctor's word come first.",
};
