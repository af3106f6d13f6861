/** What is said of brewers, kettles and circuits. */
export const brewerSentences: Readonly<Record<string, string>> = {
  brewers_fit:
    'Possible: {brewers} brewers, no clash, all done at {ends}. The first pour may be as late as {latest}.',
  brewers_do_not_fit:
    'Not possible: {brewers} brewers cannot be poured like this. Largest number that can: {largest}.',
  brewers_open:
    'Not found: no schedule for {brewers} brewers came up, and none has been excluded. Largest number found: {largest}.',
  largest_not_proven:
    'That {largest} is the most is not proven: the search for one more ended without an answer.',
  scales_few:
    '{scales} scales for {brewers} brewers: a brewer can only begin when one before it has drained.',
  pours_cooler:
    '{count} pours leave the kettle cooler than asked; the coolest is {id} from {kettle}: {is} °C instead of {asked} °C.',
  hands_sum:
    '{one} s of pouring and moving × {brewers} brewers = {sum} s, more than the {gap} s between pours.',
  one_pour_too_long: 'One pour takes {seconds} s; the limit is {limit} s.',
  way_gaps: '{brewers} brewers fit with {first} s from pour to pour.',
  way_flow: '{brewers} brewers fit when pouring at {flow} g/s or faster.',
  way_pour: '{brewers} brewers fit with pours of {grams} g or less.',
  way_scales: '{brewers} brewers fit with a scale under each.',
  way_helper: '{brewers} brewers fit with a helper who has a kettle.',
  way_one_after_another:
    '{brewers} brewers fit when they need not run alongside each other; all done at {ends}.',
  way_fewer: '{largest} of {brewers} brewers fit as it is.',
  no_way:
    'None of the usual changes alone helps: longer waits, faster or smaller pours, a helper, fewer brewers. Look at the limit of {limit} first.',
  water_short:
    '{needed} g are poured in all and the kettles give {usable} g: top up by {missing} g, or have another kettle.',
  scald: 'The water scalds: keep hands and cables clear when kettles change places.',
  never_hot:
    '{name} never gets {asked} °C hot: with {power} W it ends at {most} °C, where it loses what it takes in.',
  hot_too_late: '{name} needs {takes} to {asked} °C with {power} W; it has {within}.',
  above_boiling:
    '{name} is asked for {asked} °C; water boils at {boils} °C here. Ask for {boils} °C or less.',
  power_needed:
    '{name} is {asked} °C hot within {within} with {need} W or more; or start it hotter, or with less water.',
  circuit_too_weak: '{name} draws {need} W and circuit "{circuit}" has {limit} W left. Use another circuit.',
  circuits_take_turns: 'Kettles on one circuit take turns; that costs {seconds} s.',
  all_hot_in_time: 'All kettles are hot at {ready}, within {within}.',
  all_hot_late: 'All kettles are hot at {ready} only; there is time until {within}.',
};
