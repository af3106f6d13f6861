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
  const open: { value: unknown; path: (string | number)[] }[] = [{ value, path }];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (typeof next.value !== 'object' || next.value === null) continue;
    const list = Array.isArray(next.value);
    const entries = Object.entries(next.value);
    if (entries.length > limit)
      return problem(next.path, 'too_many', { value: `a list of ${entries.length}`, limit: String(limit) });
    if (next.path.length > MAX_DEPTH) continue;
    for (const [key, entry] of entries)
      if (typeof entry === 'object' && entry !== null)
        open.push({ value: entry, path: [...next.path, list ? Number(key) : key] });
  }
  return undefined;
}

/** No schema looks deeper than this. */
const MAX_DEPTH = 12;
