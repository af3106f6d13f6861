import { type Checked, fieldName, type Problem } from '../documents/problem.ts';

/** English sentences of what can be wrong with a table typed for a statistic, by code; other languages translate by code and values. */
export const panelInputSentences: Readonly<Record<string, string>> = {
  more_than_all: '{field} is {value}; it cannot be more than the {limit} answers there are.',
  no_answers: '{field} holds no answers; there must be at least one.',
  row_length: '{field} has {value} entries; it needs {limit}, one for each cup.',
  profile_width: '{field} has {value} entries; it needs {limit}, one for each attribute.',
  unknown_name: '{field} is "{value}"; it must be one of: {allowed}.',
  name_twice: '{field} is "{value}", which is there already; every name may stand once.',
  same_twice: '{field} sets "{value}" against itself; two different cups are needed.',
  too_few_codes:
    'This session needs {value} different codes and there are only {limit}. Take fewer tasters, cups or repeats.',
  not_linked: 'Nothing links these: {groups}. Let somebody taste across them, or look at each on its own.',
  not_enough:
    'These are too few scores: {value} scores cannot carry {limit} figures. Add tasters or repeats.',
  tree_fault: '{field}: "{value}" {fault}. Each word needs one place in the tree.',
  two_samples: '{field} has {value} entries; a test of difference takes 2.',
  ballot_missing:
    'The ballot of {taster} for "{value}" is missing. Every taster needs one for each cup, empty if nothing was ticked.',
  more_than_brew: '{field} is {value}; it cannot be more than the whole brew, {limit}.',
  ends_before: '{field} is {value}; it must be after the start, {limit}.',
};

/** A problem with a table typed for a statistic. */
export function inputProblem(
  path: readonly (string | number)[],
  code: string,
  values: Readonly<Record<string, string | number>> = {},
): Problem {
  const filled = { field: fieldName(path), ...values };
  const template = panelInputSentences[code];
  if (template === undefined) throw new Error(`There is no sentence for the problem "${code}".`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in filled ? String((filled as Record<string, string | number>)[name]) : whole,
  );
  return { path, code, values: filled, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}

/** A value, unless something is wrong with it. */
export const unless = <T>(problems: readonly Problem[], value: () => T): Checked<T> =>
  problems.length > 0 ? { ok: false, problems: [...problems] } : { ok: true, value: value() };

/** Problems of names that must come from a list: [path, name] each. */
export const unknownNames = (
  used: readonly (readonly [path: readonly (string | number)[], name: string])[],
  known: readonly string[],
): Problem[] =>
  used
    .filter(([, name]) => !known.includes(name))
    .map(([path, name]) => inputProblem(path, 'unknown_name', { value: name, allowed: known.join(', ') }));

/** Problems of names that stand twice in a list. */
export const twice = (path: readonly (string | number)[], names: readonly string[]): Problem[] =>
  names.flatMap((name, i) =>
    names.indexOf(name) < i ? [inputProblem([...path, i], 'name_twice', { value: name })] : [],
  );
