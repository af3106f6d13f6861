import type { Clash, Revision } from './api.ts';
import { sameJson } from './kernels/equal.ts';

/** The record of two states that grew apart. */
export function movedOn(mine: Revision, theirs: Revision, base: Revision | undefined): Clash {
  return {
    clash_id: mine.revision_id,
    document_id: mine.document_id,
    kind: mine.kind,
    reason: 'moved_on',
    problems: [],
    base: base?.body ?? null,
    mine,
    theirs,
  };
}

/** Longest line of states that is walked back. */
const MAX_ANCESTORS = 1_000;

/** Whether `first` grew, directly or over states kept here, from `from` or from one that says the same. */
export async function descends(
  first: Revision | undefined,
  from: Revision,
  find: (id: string) => Promise<Revision | undefined>,
): Promise<boolean> {
  let at = first?.base_revision_id ?? null;
  for (let steps = 0; at !== null && steps < MAX_ANCESTORS; steps++) {
    if (at === from.revision_id) return true;
    const ancestor = await find(at);
    if (!ancestor) return false;
    if (steps === 0 && sameJson(ancestor.body, from.body)) return true;
    at = ancestor.base_revision_id;
  }
  return false;
}
