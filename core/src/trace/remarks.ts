import { filledIn } from './fill.ts';
import type { TraceRemark } from './types.ts';

/** English sentences of everything that is said about recordings, by code. Other languages translate by code and values. */
export const traceSentences: Readonly<Record<string, string>> = {
  // The file.
  empty_file: 'The file is empty. It is kept as it came; record again, or choose another file.',
  no_figures:
    'No line of this file holds figures, so nothing can be drawn from it. It is kept as it came. Save the recording as text with columns (CSV) and choose that file.',
  not_text:
    'This file is not text: {share} % of it are signs that no text has. It is kept as it came. Export it as CSV and choose that file.',
  comma_twice:
    'Commas stand both between columns and inside numbers ({value}), so it cannot be told which is which. Save it with semicolons between columns, or with points as decimals.',
  no_time_column:
    'No column looks like time. Rows are taken as {step} s apart; set that, or choose the column that is the time.',
  no_mass_column:
    'No column looks like a mass, so no pours can be found. Choose the column of the balance if there is one.',
  nothing_taken: 'Every column is left out. Choose at least one to take.',
  unit_guessed:
    'Column "{column}" does not say its unit. From its figures ({from} to {to}) it is taken as {unit}; change that if it is wrong.',
  unit_unlikely:
    'Column "{column}" is taken as {unit}, but then it runs from {from} to {to} {shown}. Check its unit, and whether it is the right column.',
  use_guessed: 'Nothing says what column "{column}" is. From its figures it is taken as {use}.',
  column_left_out: 'Column "{column}" is left out: {reason}.',
  lines_not_read:
    '{count} of {rows} lines were not understood and are left out, the first at line {line}: {value}.',
  cells_not_read:
    'In column "{column}", {count} cells hold no figure and are taken as gaps, the first at line {line}: {value}.',
  // Times.
  times_do_not_rise:
    'The times of column "{column}" do not rise, so this is hardly the time. Choose another column for the time, or say that rows are evenly spaced.',
  time_stands_still:
    'All rows carry the same time. Choose another column, or say that rows are evenly spaced.',
  times_turned: 'The rows ran from last to first; they were turned round.',
  several_recordings:
    'The time starts again {count} times: this file holds several recordings. The longest is taken, from line {line} on. Split the file to take another.',
  out_of_order: '{count} rows stood a little out of order and are left out.',
  times_doubled: '{count} rows repeat the time of the row before; where they differ, the later one is taken.',
  past_midnight: 'The clock passed midnight within the recording; the times were carried on.',
  gap: 'Nothing was recorded for {length} s here. What happened in it is unknown; a pour in it is only seen by its mass.',
  gaps: 'There are {count} gaps in the recording, {length} s in all.',
  few_rows: 'Only {count} rows could be read; pours cannot be found in that.',
  slow_rate:
    'A row every {step} s is too seldom: pours are found to about {step} s only. Five rows a second or more are wanted.',
  thinned: 'The recording has {rows} rows; every {every} of them are put together for drawing.',
  // Masses.
  mass_flat: 'The mass hardly changes ({range} g in all). Is this the right column?',
  mass_falls:
    'The mass falls by {fall} g over the recording instead of rising. If the kettle stood on the balance, pours cannot be told from lifting it; put the dripper and server on it.',
  tare: 'The balance was set to zero at {before} g; the mass goes on from there.',
  put_on: 'Something of {jump} g was put on the balance; it is not counted as water.',
  taken_off: 'Something of {jump} g was taken off the balance; the mass goes on from before.',
  lifted: 'The vessel was off the balance for {length} s; that time is bridged.',
  knocks: 'The balance was knocked {count} times; these moments are bridged.',
  noisy:
    'The balance scatters by ± {noise} g; starts and ends of pours are less sure. Look for wind or a table that shakes.',
  // Pours.
  no_pours: 'No pour of {least} g or more was found. Is this the mass of what the water is poured into?',
  pour_disturbed: 'The balance was disturbed during this pour; its figures are less sure.',
  pour_at_edge: 'The recording {edge} in the middle of this pour; its mass is only what was recorded.',
  looks_like_drip:
    'The mass rises slowly and evenly, as a drip does. If only the server stood on the balance, take this column as the beverage.',
  unaccounted: '{mass} g rose between the pours. The balance drifts, or something dripped onto it.',
  // Drawdown.
  drip_goes_on: 'The drip still ran at {flow} g/s when the recording ended; the end is not known.',
  no_break_seen: 'No break in the drip was seen, so the moment of drawdown is left open.',
  server_taken: 'The server was taken away here; the end of the drip was not recorded.',
  // Plan as poured.
  pour_missing: 'Pour {pour} of the plan was not found in the recording; it is left out.',
  pour_added: 'A pour of {mass} g at {start} s is not in the plan; it is added.',
  pour_cut: 'Pour {pour} begins before the one before it ends; it starts {by} s later here.',
  lift_moved:
    'The plan lifts the dripper at {lift} s, while water was still poured; the lift is moved to {to} s.',
  too_many_pours: '{count} pours were found; only the first {limit} are taken.',
};

/** @throws Error when nobody wrote a sentence for the code. */
export function traceRemark(
  level: TraceRemark['level'],
  code: string,
  values: Readonly<Record<string, string | number>> = {},
  at_s: number | null = null,
): TraceRemark {
  const template = traceSentences[code];
  if (template === undefined) throw new Error(`traceRemark: there is no sentence for ${code}`);
  return { level, code, at_s, values, sentence: filledIn(template, values) };
}

/** A figure to so many decimals, without trailing zeros. */
export const figure = (x: number, decimals = 1): number => {
  const scale = 10 ** decimals;
  return Math.round(x * scale) / scale;
};
