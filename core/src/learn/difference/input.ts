import { fieldName, type Problem } from '../../documents/problem.ts';

/** English sentences of what can be wrong with a question about brews typed by hand, by code. */
export const learnInputSentences: Readonly<Record<string, string>> = {
  levels_count: '{field} has {value} entries; it needs {limit}, one for each factor.',
  low_not_below_high: '{field}: low is {value}; it must be below high, {limit}.',
  no_such_brew: '{field} is {value}; it must be the place of a brew, 1 to {limit}.',
  itself: '{field}: brew {value} is set against itself; two different brews are needed.',
  shares_sum: '{field}: the shares sum to {value}; they must sum to 1.',
  no_mixture:
    'No mixture fits these bounds: the lowest shares sum to {low}, the highest to {high}; 1 must lie between.',
  factor_count: 'A design of kind {kind} takes {low} to {high} factors; there are {value}.',
  needs_runs: 'Runs is missing; a design of kind {kind} needs it, at least {limit}.',
  too_few_runs: 'Runs is {value}; to tell {limit} terms it must be at least {limit}.',
  no_fraction: 'Runs is {value}; for {factors} factors it must be one of: {allowed}.',
  name_twice: '{field} is "{value}", which is there already; every name may stand once.',
  ragged_figures: '{field} has {value} entries; it needs {limit}, like the first one.',
  nothing_known:
    '{field}: brew {value} has no value and is in no blind choice; give it a value, or leave it out.',
};

/** A problem with a question typed by hand. */
export function learnProblem(
  path: readonly (string | number)[],
  code: string,
  values: Readonly<Record<string, string | number>> = {},
): Problem {
  const filled: Record<string, string | number> = { field: fieldName(path), ...values };
  const template = learnInputSentences[code];
  if (template === undefined) throw new Error(`There is no sentence for the problem "${code}".`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in filled ? String(filled[name]) : whole,
  );
  return { path, code, values: filled, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}
