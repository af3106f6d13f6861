import { type Problem, problem } from '@pourline/core';

/** Longest list and widest object that any document could hold; far above what the schemas allow. */
export const MAX_ENTRIES = 20_000;

/**
 * Finds the first list or object with more entries than `limit`. Run before a schema check, which reports every bad
 * entry: a list of millions would otherwise make millions of problems and exhaust the memory.
 */
export function sizeProblem(
  value: unknown,
  limit: number,
  path: (string | number)[] = [],
): Problem | undefined {
  const open: { value: object; path: (string | number)[] }[] = [];
  const visit = (entry: unknown, at: (string | number)[]): void => {
    if (typeof entry === 'object' && entry !== null) open.push({ value: entry, path: at });
  };
  visit(value, path);
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { value: holder, path: at } = next;
    const { length } = Array.isArray(holder) ? holder : Object.keys(holder);
    if (length > limit) return problem(at, 'too_many', { value: length, limit });
    if (at.length > MAX_DEPTH) continue;
    if (Array.isArray(holder)) for (const [i, entry] of holder.entries()) visit(entry, [...at, i]);
    else for (const [key, entry] of Object.entries(holder)) visit(entry, [...at, key]);
  }
  return undefined;
}

/** No schema looks deeper than this. */
const MAX_DEPTH = 12;
