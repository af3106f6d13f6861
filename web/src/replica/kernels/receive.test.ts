import { describe, expect, it } from 'vitest';
import { revision, venue } from '../testing/documents.ts';
import { backoff, receive, sendingOrder } from './receive.ts';

const accepted = revision({ revision_id: 'a', seq: 5 });
const waiting = revision({ revision_id: 'm1', base_revision_id: 'a', seq: null, body: venue({ air_C: 22 }) });
const waiting2 = revision({
  revision_id: 'm2',
  base_revision_id: 'm1',
  seq: null,
  body: venue({ air_C: 23 }),
});

describe('receive', () => {
  it('takes a newer state as the head when nothing waits', () => {
    expect(receive({ accepted, chain: [] }, revision({ seq: 6 }), false)).toEqual({ act: 'advance' });
  });

  it('ignores what is older or known', () => {
    expect(receive({ accepted, chain: [] }, accepted, false)).toEqual({ act: 'ignore' });
    expect(receive({ accepted, chain: [waiting] }, revision({ seq: 4 }), false)).toEqual({ act: 'ignore' });
  });

  it('recognises our own states, and those before them with it', () => {
    const chain = [waiting, waiting2];
    expect(receive({ accepted, chain }, { ...waiting, seq: 6 }, false)).toEqual({
      act: 'acknowledge',
      count: 1,
    });
    expect(receive({ accepted, chain }, { ...waiting2, seq: 7 }, false)).toEqual({
      act: 'acknowledge',
      count: 2,
    });
  });

  it('keeps what grew from the incoming state on top of it', () => {
    expect(receive({ accepted: null, chain: [waiting] }, accepted, true)).toEqual({ act: 'rebase' });
  });

  it('sets aside what grew from another state, unless both say the same', () => {
    const theirs = revision({ seq: 6, body: venue({ air_C: 30 }) });
    expect(receive({ accepted, chain: [waiting] }, theirs, false)).toEqual({ act: 'clash' });
    const same = revision({ seq: 6, body: venue({ air_C: 22 }) });
    expect(receive({ accepted, chain: [waiting] }, same, false)).toEqual({ act: 'agree' });
  });
});

describe('sendingOrder', () => {
  it('sends campaigns before their documents and otherwise in order of time', () => {
    const outbox = [
      { n: 3, revision_id: 'r3', document_id: 'doc' },
      { n: 2, revision_id: 'r2', document_id: 'doc' },
      { n: 4, revision_id: 'r4', document_id: 'camp' },
    ];
    expect(sendingOrder(outbox, () => 'camp').map((entry) => entry.n)).toEqual([4, 2, 3]);
  });
});

describe('backoff', () => {
  it('doubles from one second to half a minute, give or take a quarter', () => {
    expect([0, 1, 2, 5, 60].map((attempt) => backoff(attempt, 0.5))).toEqual([
      1_000, 2_000, 4_000, 30_000, 30_000,
    ]);
    expect(backoff(0, 0)).toBe(750);
    expect(backoff(60, 1)).toBe(37_500);
  });
});
