import type { Checked, Problem } from '@pourline/core';
import { sameJson } from './equal.ts';
import { mergeOver } from './merge.ts';

/** Undo steps kept for one document. */
export const MAX_STEPS = 200;

/** A document under edit. `T` is its valid shape; `body` may break it. */
export interface DraftState<T> {
  body: T;
  document: T;
  problems: readonly Problem[];
  /** The saved state this one grew from. */
  base: string;
  past: readonly T[];
  future: readonly T[];
  /** What stood before the gesture under way; null while there is none. */
  gestureFrom: T | null;
  /** The next settled change belongs to the same undo step as the last. */
  stepOpen: boolean;
  /** There is a settled change that is not saved. */
  unsaved: boolean;
}

export type Check<T> = (body: unknown) => Checked<T>;

/** A draft that stands as it was saved. */
export function openDraft<T>(base: string, document: T): DraftState<T> {
  return {
    body: document,
    document,
    problems: [],
    base,
    past: [],
    future: [],
    gestureFrom: null,
    stepOpen: false,
    unsaved: false,
  };
}

/** A draft with something typed in it that was never saved, as found after a reload. */
export function reopenDraft<T>(base: string, document: T, typed: T, check: Check<T>): DraftState<T> {
  return changeDraft(openDraft(base, document), typed, true, check);
}

/**
 * Takes over a new body. An unsettled change begins or continues a gesture; the settled change that ends it makes one
 * undo step of the whole. Settled changes in an open step join it.
 */
export function changeDraft<T>(
  state: DraftState<T>,
  body: T,
  settled: boolean,
  check: Check<T>,
): DraftState<T> {
  const checked = check(body);
  const next: DraftState<T> = {
    ...state,
    body,
    document: checked.ok ? checked.value : state.document,
    problems: checked.ok ? [] : checked.problems,
    gestureFrom: settled ? null : (state.gestureFrom ?? state.body),
  };
  if (!settled) return next;
  const from = state.gestureFrom ?? state.body;
  if (sameJson(from, body)) return next;
  const joins = state.stepOpen && state.gestureFrom === null && state.past.length > 0;
  return {
    ...next,
    past: joins ? state.past : [...state.past, from].slice(-MAX_STEPS),
    future: [],
    stepOpen: true,
    unsaved: true,
  };
}

/** Ends the open undo step: the next change makes its own. */
export function closeStep<T>(state: DraftState<T>): DraftState<T> {
  return state.stepOpen ? { ...state, stepOpen: false } : state;
}

function stepTo<T>(state: DraftState<T>, body: T, check: Check<T>): DraftState<T> {
  const checked = check(body);
  return {
    ...state,
    body,
    document: checked.ok ? checked.value : state.document,
    problems: checked.ok ? [] : checked.problems,
    gestureFrom: null,
    stepOpen: false,
    unsaved: true,
  };
}

/** One step back. During a gesture it only drops the gesture. */
export function undoDraft<T>(state: DraftState<T>, check: Check<T>): DraftState<T> {
  if (state.gestureFrom !== null)
    return { ...stepTo(state, state.gestureFrom, check), unsaved: state.unsaved };
  const target = state.past.at(-1);
  if (target === undefined) return state;
  return {
    ...stepTo(state, target, check),
    past: state.past.slice(0, -1),
    future: [...state.future, state.body],
  };
}

/** One step forward again. */
export function redoDraft<T>(state: DraftState<T>, check: Check<T>): DraftState<T> {
  const target = state.future.at(-1);
  if (target === undefined || state.gestureFrom !== null) return state;
  return {
    ...stepTo(state, target, check),
    past: [...state.past, state.body],
    future: state.future.slice(0, -1),
  };
}

/** Whether the person has something here that is not saved. */
export function isTouched<T>(state: DraftState<T>): boolean {
  return state.unsaved || state.gestureFrom !== null || state.problems.length > 0;
}

/** The body that was handed over has become revision `revision`. What was typed meanwhile stays unsaved. */
export function savedDraft<T>(state: DraftState<T>, revision: string, body: T): DraftState<T> {
  const unchanged = state.body === body;
  return { ...state, base: revision, unsaved: !unchanged && state.unsaved };
}

/**
 * An untouched draft takes over what somebody else saved. The undo steps are carried onto it: undoing takes back only
 * the changes made here, and leaves the others' standing.
 */
export function followDraft<T>(state: DraftState<T>, revision: string, document: T): DraftState<T> {
  const carry = (step: T): T => mergeOver(state.document, step, document) as T;
  return {
    ...state,
    base: revision,
    body: document,
    document,
    problems: [],
    past: state.past.map(carry),
    future: state.future.map(carry),
    stepOpen: false,
  };
}
