import { fieldName, type Problem, problem } from '@pourline/core';

/** Sentences for what only a store can find wrong, by code. Filled like core's own. */
export const storeSentences: Readonly<Record<string, string>> = {
  revision_reused: '{field} is {value}, which already names other content; every save needs a new id.',
  kind_changed:
    '{field} is {value}, but this document was saved as a {limit} before; a document keeps its kind.',
  campaign_of_itself:
    '{field} is {value}; a campaign belongs to itself, so this must be its own id, {limit}.',
  not_the_body: '{field} is {value}, but the document itself says {limit}; they must agree.',
  control_characters: '{field} holds control characters; write it as plain text on one line.',
  wrong_hash: '{field} does not belong to its hash: the content has the hash {value}.',
  not_a_media_type: '{field} is "{value}"; it must be a media type such as text/csv or image/jpeg.',
  not_base64: '{field} is not valid base64.',
};

/** Makes a problem with one of the store's sentences. */
export function storeProblem(
  path: readonly (string | number)[],
  code: keyof typeof storeSentences & string,
  values: Record<string, string | number> = {},
): Problem {
  const filled: Record<string, string | number> = { field: fieldName(path), ...values };
  const text = storeSentences[code]!.replaceAll(/\{(\w+)\}/g, (whole, key: string) =>
    Object.hasOwn(filled, key) ? String(filled[key]) : whole,
  );
  return { path, code, values: filled, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}

/** The same problem, met further inside: its path gets a longer beginning and its sentence names the new path. */
export function problemUnder(prefix: readonly (string | number)[], found: Problem): Problem {
  const { field: _, ...values } = found.values;
  const path = [...prefix, ...found.path];
  return Object.hasOwn(storeSentences, found.code)
    ? storeProblem(path, found.code, values)
    : problem(path, found.code, values);
}
