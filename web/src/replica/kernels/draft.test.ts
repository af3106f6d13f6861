import { checkKind, type DocumentOf } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { venue } from '../testing/documents.ts';
import {
  changeDraft,
  closeStep,
  type DraftState,
  followDraft,
  isTouched,
  openDraft,
  redoDraft,
  reopenDraft,
  savedDraft,
  undoDraft,
} from './draft.ts';

type Venue = DocumentOf<'venue'>;
const check = (body: unknown) => checkKind('venue', body);
const start = (): DraftState<Venue> => openDraft('r0', venue());
const settle = (state: DraftState<Venue>, change: Partial<Venue>) =>
  closeStep(changeDraft(state, { ...state.body, ...change }, true, check));

describe('changing a draft', () => {
  it('keeps an invalid body on screen and the last valid one beside it', () => {
    const state = settle(start(), { air_C: 90 });
    expect(state.body.air_C).toBe(90);
    expect(state.document.air_C).toBe(21);
    expect(state.problems.map((problem) => problem.path)).toEqual([['air_C']]);
    expect(isTouched(state)).toBe(true);
  });

  it('keeps text typed into a number field as it is', () => {
    const body = { ...venue(), air_C: '2l' as unknown as number };
    const state = changeDraft(start(), body, true, check);
    expect(state.body.air_C).toBe('2l');
    expect(state.problems[0]?.sentence).toContain('"2l"');
  });

  it('makes one undo step of a whole gesture, and none before it ends', () => {
    let state = start();
    for (const air_C of [22, 23, 24]) state = changeDraft(state, { ...state.body, air_C }, false, check);
    expect(state.past).toHaveLength(0);
    expect(state.unsaved).toBe(false);
    expect(state.document.air_C).toBe(24);
    state = settle(state, { air_C: 25 });
    expect(state.past).toHaveLength(1);
    expect(undoDraft(state, check).body.air_C).toBe(21);
  });

  it('makes no step of a gesture that ends where it began', () => {
    let state = changeDraft(start(), venue({ air_C: 30 }), false, check);
    state = changeDraft(state, venue(), true, check);
    expect(state).toMatchObject({ past: [], gestureFrom: null, unsaved: false });
  });

  it('joins quick typing into one step until the step is closed', () => {
    let state = start();
    for (const name of ['P', 'Pr', 'Pra']) state = changeDraft(state, { ...state.body, name }, true, check);
    expect(state.past).toHaveLength(1);
    state = changeDraft(closeStep(state), { ...state.body, name: 'Prac' }, true, check);
    expect(state.past).toHaveLength(2);
  });
});

describe('undo and redo', () => {
  it('walk back and forth, and a new change forgets the way forward', () => {
    let state = settle(settle(start(), { air_C: 22 }), { air_C: 23 });
    state = undoDraft(undoDraft(state, check), check);
    expect(state.body.air_C).toBe(21);
    state = redoDraft(state, check);
    expect(state.body.air_C).toBe(22);
    expect(settle(state, { air_C: 30 }).future).toEqual([]);
  });

  it('drop a gesture under way without touching earlier steps', () => {
    let state = settle(start(), { air_C: 22 });
    state = changeDraft(state, { ...state.body, air_C: 40 }, false, check);
    state = undoDraft(state, check);
    expect(state.body.air_C).toBe(22);
    expect(state.past).toHaveLength(1);
  });

  it('do nothing at the ends', () => {
    expect(undoDraft(start(), check)).toEqual(start());
    expect(redoDraft(start(), check)).toEqual(start());
  });
});

describe('saving and following', () => {
  it('keeps what was typed while the save was under way unsaved', () => {
    const sent = settle(start(), { air_C: 22 });
    const later = changeDraft(sent, { ...sent.body, air_C: 23 }, true, check);
    expect(savedDraft(later, 'r1', sent.body)).toMatchObject({ base: 'r1', unsaved: true });
    expect(savedDraft(sent, 'r1', sent.body)).toMatchObject({ base: 'r1', unsaved: false });
  });

  it('carries the undo steps onto a state somebody else saved', () => {
    const mine = savedDraft(settle(start(), { air_C: 25 }), 'r1', settle(start(), { air_C: 25 }).body);
    const theirs = venue({ air_C: 25, humidity_pct: 80 });
    const followed = followDraft(mine, 'r2', theirs);
    expect(followed).toMatchObject({ base: 'r2', body: theirs });
    expect(undoDraft(followed, check).body).toEqual(venue({ air_C: 21, humidity_pct: 80 }));
  });

  it('reopens with what was typed before a reload', () => {
    const state = reopenDraft('r0', venue(), venue({ air_C: 24 }), check);
    expect(state).toMatchObject({ base: 'r0', unsaved: true });
    expect(undoDraft(state, check).body.air_C).toBe(21);
    expect(reopenDraft('r0', venue(), venue(), check).unsaved).toBe(false);
  });
});
