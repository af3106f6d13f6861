/**
 * English sentences for problems, by code. `{field}`, `{value}` … are filled from the problem's values. A face
 * that speaks another language translates by code and values and never parses these.
 */
export const problemSentences: Readonly<Record<string, string>> = {
  too_small: '{field} is {value}; it must be at least {limit}.',
  not_above: '{field} is {value}; it must be more than {limit}.',
  too_big: '{field} is {value}; it must be at most {limit}.',
  too_few: '{field} has {value} entries; it needs at least {limit}.',
  too_many: '{field} has {value} entries; it may have at most {limit}.',
  too_short: '{field} is empty; it needs at least {limit} character.',
  too_long: '{field} is too long; it may hold at most {limit} characters.',
  missing: '{field} is missing; it must be given, as {expected}.',
  wrong_type: '{field} is {value}; it must be {expected}.',
  not_one_of: '{field} is {value}; it must be one of: {allowed}.',
  unknown_field:
    '{field} holds fields that do not belong there: {keys}. Take them out or check their spelling.',
  wrong_format: '{field} is {value}; it must be written as {format}.',
  not_valid: '{field} is {value}, which is not valid here.',
  unreadable:
    '{field} could not be checked: somewhere in it stands an object where a list or a text belongs.',
  not_json: 'This is not valid JSON: {detail}.',
  not_a_document: 'This is not a document: its kind is {value}; it must be one of: {allowed}.',
  newer_version:
    'This {kind} has version {value}; this program reads versions up to {limit}. Update the program to open it.',
  bad_version: '{field} is {value}; it must be a whole number from 1 up to the newest version, {limit}.',
  upgrade_failed: 'The {kind} of version {value} could not be brought to version {limit}.',
  shares_not_one: 'The shares in {field} add up to {value}; together they must make 1.',
  pours_overlap:
    '{field} is {value}; the pour before it runs until {limit} s. Start later, or pour the one before faster.',
  pour_after_lift:
    '{field} is {value}; the dripper is lifted away at {limit} s, so this pour cannot end after it.',
  lift_before_first_pour: '{field} is {value}; it must be after the first pour starts, at {limit} s.',
  too_hot_to_hold:
    '{field} is {value}; at this venue water boils at {limit} °C, so a kettle cannot hold it. Ask for {limit} °C or less.',
  frozen_water: '{field} is {value}; water is ice below 0 °C.',
  not_found: '{field} points to a {kind} that is not in this campaign. Choose one that is.',
  duplicate_id: '{field} is used twice ({value}); every entry needs its own.',
  classes_not_rising: '{field} is {value}; particle sizes must rise from row to row.',
  sieves_not_falling:
    '{field} is {value}, and the sieve above it {limit} µm; sieves are listed from the coarsest down, each finer than the one above. Put the rows in that order, or correct the aperture.',
  no_such_picture:
    '{field}: grain counted in picture {value}, but there are {limit}. Pictures are counted from 0.',
  lighter_than_tare:
    '{field} is {value}, less than its empty sieve or pan ({limit} g). Weigh both again, or set the tare to 0 when the scale had already taken it off.',
  needs_sizes:
    '{field} says nothing of sizes; give it a distribution, or the data of a measurement that holds something.',
  text_no_rows:
    'No table was found in this text: it needs lines with a size and a share, separated by commas, semicolons or tabs.',
  text_comma_twice:
    'In this text commas stand both between columns and inside numbers ({value}). Save it with semicolons between columns, or with points as decimals.',
  text_cell: 'Line {line}: {value} under "{column}" is not a number. Correct it, or take the line out.',
  text_negative:
    'Line {line}: {value} under "{column}" is negative; a share or a mass cannot be. Correct it, or set it to 0 when it is noise.',
  text_size_not_positive:
    'Line {line}: the size is {value}; it must be more than 0. Correct it, or take the line out.',
  text_size_twice: 'Line {line}: the size {value} µm stands there twice. Take one of the lines out.',
  text_one_column: 'The lines of this text hold one number each; a table needs a size and a share beside it.',
  dates_out_of_order: '{field} is {value}; it must not be before {limit}.',
  charge_imbalance:
    'The ions of {name} do not balance: {positive} meq/L of positive charge against {negative} of negative, {value} % apart. An ion is probably missing; check the label.',
  cold_above_hot:
    '{field} is {value}; a cup is hot above {limit}, so cold must begin below that, with warm in between.',
  not_a_value_name:
    '{field} is {value}; it must begin with a letter and hold letters, digits and underscores only, like peach_found.',
  ends_before_start: '{field} is {value}; it must not be before its beginning, {limit}.',
  events_not_rising: '{field} is {value}; events are numbered upwards, and the one before it is {limit}.',
  unknown_cue: '{field} speaks of "{value}", which is not among the cues of this run.',
  beverage_above_water:
    '{field} is {value}, more than the {limit} g of water that went in. Weigh again, or take off the mass of the server.',
  strength_impossible:
    '{field}: {value} % in {beverage} g from {dose} g of coffee is a yield of {yield} %; no coffee gives more than {limit} %. Check the dose, the beverage and the readings.',
  strength_high:
    '{field}: {value} % in {beverage} g from {dose} g of coffee is a yield of {yield} %; more than {limit} % is rare. Check the dose, the beverage and the readings.',
  held_odd:
    '{field} is {value}; then the grounds hold {held} g of liquid per g, usually {low} to {high}. Check dose, water and beverage.',
  not_as_planned: '{field} is {value}, and the plan says {limit}. It counts as measured.',
  pours_other_sum: '{field} is {value}, and the pours as recorded add up to {sum} g. Correct one of them.',
  before_last_pour: '{field} is {value}, before the last pour ended at {limit} s. Check the clock.',
  above_boiling: '{field} is {value}; at this venue water boils at {limit} °C. Check the thermometer.',
  frozen_too_long: '{field} is {value}, longer than the {limit} since roasting.',
  pattern_open: 'In the pattern, {value} opens a brace and never closes it. Add the closing brace.',
  pattern_word:
    'The pattern holds {value}, which means nothing here; in braces there may be: number, unit, time, skip, stable:… and moving:….',
  pattern_number: 'The pattern has {value} readings; it needs the word number, in braces, exactly once.',
  lengths_differ: '{field} has {value} entries, and there are {limit} times; every time needs one value.',
  time_goes_back: '{field} is {value}, before the one above it ({limit}); times must not go back.',
  no_such_word:
    '{field} is {value}; there is no such word in this tree. Add it, or choose a wider word that is there.',
  word_loop:
    '{field} is {value}, which is itself narrower than this word; a word cannot be wider than itself.',
  window_upside_down:
    '{field} is {value}; a cup only cools, so a window must end below its beginning, {limit} °C.',
  two_samples: '{field} has {value} entries; this test compares exactly 2.',
  unknown_sample: '{field} is {value}, which is not among the samples; it must be one of: {allowed}.',
  not_a_cup_code: '{field} is {value}; it must be the three digits on a cup, like 482.',
  off_step: '{field} is {value}; marks go in steps of {limit} from {from}.',
  max_below_min: '{field} is {value}; it must not be less than the least, {limit}.',
  unknown_category: '{field} is {value}, which is not among the categories; it must be one of: {allowed}.',
  overfilled: '{field} is {value}; {name} holds {limit} g. Fill it with {limit} g or less.',
  no_cup:
    '{field} asks for cups, but {name} has none. Add a cup to it to see how long it stays hot and warm.',
  outlet_needs_valve:
    '{field} is {value}; this dripper has no valve that could keep its outlet closed. Choose a dripper with one, or leave this empty.',
  dripper_too_small:
    '{field} is {value}; that much ground coffee takes up about {volume} mL, and this dripper holds {limit} mL. Take a dose of {dose} g or less, or a larger dripper.',
};

/** Fills the sentence for a code. An unknown code gives a plain sentence, never an empty one. */
export function sentenceOf(code: string, values: Readonly<Record<string, string | number>>): string {
  const template = problemSentences[code] ?? problemSentences.not_valid!;
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return text.charAt(0).toUpperCase() + text.slice(1);
}
