import { fieldName, type Problem } from '../../documents/problem.ts';

/** English sentences of what can be wrong in a session, by code; other languages translate by code and values. None names a sample. */
export const sessionSentences: Readonly<Record<string, string>> = {
  codes_run_out:
    'This session needs {value} cups with a number of their own and there are only {limit} numbers. Take fewer seats, samples, repeats or temperatures.',
  title_tells: '{field} holds "{value}", the name of a sample, and tasters read it. Say it without.',
  no_hidden_here:
    '{field} has {value} entries; hidden repeats are only possible where every cup is judged by itself. Use repeats instead.',
  no_partial_here: '{field} is {value}; this test needs every taster to get all cups. Leave it empty.',
  partial_too_many: '{field} is {value}; there are only {limit} samples. Take fewer, or leave it empty.',
  partial_and_hidden:
    '{field} is {value}, and there are hidden repeats; one taster would get only some of the repeats. Choose one of the two.',
  too_many_sets:
    'Each taster would get {value} sets of cups; at most {limit} can be kept. Take fewer repeats.',
  run_already: 'This tasting was run already. Make a copy of it to run it again.',
  no_such_set: '{field} is {value}; your sheet has sets 1 to {limit}.',
  other_test: '{field} is "{value}"; this session asks for "{limit}".',
  window_not_here: '{field} is {value}; it must be {allowed}.',
  code_not_here: '{field} is {value}; before you stand {allowed}.',
  code_missing: '{field} is empty; say which cup it is about: {allowed}.',
  code_for_all: '{field} is {value}; this answer is about all cups of the set, so leave it empty.',
  code_twice: '{field} is {value}, which stands in it already. Each cup has one place.',
  cups_missing: '{field} leaves out {value}. Every cup needs a place.',
  no_ties: '{field} puts {value} on one place. Here every cup needs a place of its own.',
  choose_one: '{field} is empty; here one of the two must be chosen.',
  not_asked: '{field} is "{value}", which is not asked here; it must be one of: {allowed}.',
  answered_twice: '{field} is "{value}", which was answered already. Answer each once.',
  not_answered: '{field} leaves out {value}. Answer each before you send it.',
  off_scale: '{field} is {value}; the scale goes from {min} to {max} in steps of {step}.',
  liking_missing: '{field} is empty; say how much you like the cup, from 1 to 9.',
  too_many_words: '{field} has {value} words; at most {limit} can be given for one cup.',
  not_in_tree: '{field} is "{value}", which is not in the tree of words, and no own words are taken here.',
  not_rising: '{field} is {value} s, earlier than the one before. Send clicks in the order they were made.',
  after_end: '{field} is {value} s; it ended after {limit} s.',
  not_started: 'Tasting has not begun. Keep your answer; it can be sent when the host has begun.',
  not_poured: 'The cups of this set are not poured yet. Keep your answer; it can be sent when they are.',
  id_reused:
    '{field} is {value}, which names another answer that was sent before. Send this one under a new id.',
  has_left: 'This seat was given up, so nothing more is taken from it. Ask the host for a code to come back.',
  name_taken:
    'Somebody called {value} sits at this table already. Add a letter or a surname, so that you can be told apart.',
  table_full: 'All {limit} seats of this session are taken. Ask the host.',
  joining_over: 'Nobody can join this session any more. Ask the host.',
  minor: 'Tasting coffee here is for people of 18 or older.',
  allergen_here:
    'Something that is served here may carry {value}, which you keep away from. Do not taste here; speak to the host.',
  no_such_flight: '{field} is {value}; this session has flights 1 to {limit}.',
  flight_not_poured: 'Flight {value} is not poured yet; say so first, then measure.',
  not_tasting: 'This is possible once tasting has begun and until the session is closed.',
  not_open: 'This is possible until the session is closed.',
  nobody_here: 'Nobody sits at the table yet. Let at least one taster join first.',
  no_such_seat: '{field} is {value}; there is nobody on that seat.',
  measured_before_pouring: '{field} lies before the flight was poured. Measure after pouring.',
  in_the_future: '{field} lies in the future. Leave it out for now, or give a moment that has passed.',
};

/** A problem of a session. */
export function sessionProblem(
  path: readonly (string | number)[],
  name: string,
  values: Readonly<Record<string, string | number>> = {},
): Problem {
  const filled: Record<string, string | number> = { field: fieldName(path), ...values };
  const template = sessionSentences[name];
  if (template === undefined) throw new Error(`There is no sentence for the problem "${name}".`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, key: string) => String(filled[key] ?? whole));
  return { path, code: name, values: filled, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}

/** Names as they stand in a sentence. */
export const listed = (entries: readonly (string | number)[]): string => entries.join(', ');
