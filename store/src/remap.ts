import type { AnyDocument } from '@pourline/core';

/**
 * Gives every document a new id and follows every reference between them. References to documents outside the list
 * stay as they are. Pure but for `newId`.
 */
export function withNewIds(documents: readonly AnyDocument[], newId: () => string): AnyDocument[] {
  const ids = new Map(documents.map((document) => [document.id, newId()]));
  return documents.map((document) => replaceIds(document, ids) as AnyDocument);
}

/** Ids are unique enough that a text equal to one is that id, whatever the field. */
function replaceIds(value: unknown, ids: ReadonlyMap<string, string>): unknown {
  if (typeof value === 'string') return ids.get(value) ?? value;
  if (Array.isArray(value)) return value.map((entry) => replaceIds(entry, ids));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, replaceIds(entry, ids)]));
}

/** Hashes of the files that documents point to, in fields called `attachment`. */
export function attachedTo(documents: readonly AnyDocument[]): Set<string> {
  const hashes = new Set<string>();
  const walk = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    for (const [key, entry] of Object.entries(value)) {
      if (key === 'attachment' && typeof entry === 'string') hashes.add(entry);
      else walk(entry);
    }
  };
  walk(documents);
  return hashes;
}
