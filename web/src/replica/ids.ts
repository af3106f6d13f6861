import { v7 } from 'uuid';

/** A new identifier for a document or a revision: UUID version 7 (RFC 9562), so that ids sort by time. */
export const newId = (): string => v7();

/** A short identifier inside one document: a pour, a kettle, a grinder setting. Unlike every id in `taken`. */
export function newLocalId(prefix: string, taken: readonly { id: string }[]): string {
  const used = new Set(taken.map((entry) => entry.id));
  for (let n = taken.length + 1; ; n++) if (!used.has(`${prefix}-${n}`)) return `${prefix}-${n}`;
}
