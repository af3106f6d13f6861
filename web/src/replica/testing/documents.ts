import { checkKind, type DocumentOf } from '@pourline/core';
import type { Revision } from '../api.ts';
import { newId } from '../ids.ts';

export const CAMPAIGN = '018f0000-0000-7000-8000-000000000001';
export const VENUE = '018f0000-0000-7000-8000-000000000002';

/** A valid venue, with what a test wants different. */
export function venue(change: Partial<DocumentOf<'venue'>> = {}): DocumentOf<'venue'> {
  const checked = checkKind('venue', {
    kind: 'venue',
    version: 1,
    id: VENUE,
    campaign_id: CAMPAIGN,
    name: 'Practice room',
    ...change,
  });
  if (!checked.ok) throw new Error(checked.problems.map((problem) => problem.sentence).join(' '));
  return checked.value;
}

/** A state of the venue as the server would send it. */
export function revision(change: Partial<Revision> = {}): Revision {
  return {
    revision_id: newId(),
    document_id: VENUE,
    campaign_id: CAMPAIGN,
    kind: 'venue',
    base_revision_id: null,
    author: 'coach',
    device: 'laptop',
    at: '2031-03-01T10:00:00.000Z',
    body: venue(),
    rev: 1,
    seq: 1,
    ...change,
  };
}
