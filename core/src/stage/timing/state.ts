/**
 * Bounds of all starts while a search runs. Lower and upper bounds are one kind of thing: bound 2i is the earliest start of
 * task i, bound 2i + 1 is minus its latest start, so that every bound only ever rises and "bound k is at least v" is the only
 * statement there is. Its opposite is "bound k ^ 1 is at least 1 − v".
 */
export interface State {
  /** [2 × task] */
  bounds: Int32Array;
  /** Every rise in order: which bound, what it was, why, and the rise of the same bound before it (−1: none). */
  keys: number[];
  olds: number[];
  reasons: (Reason | null)[];
  previous: number[];
  /** Last rise of each bound, −1 when it stands as at first. [2 × task] */
  last: Int32Array;
  /** Length of the trail when each level was opened; the root is level 0. */
  levels: number[];
  /** Statements that cannot all hold: [bound, value, bound, value, …]; empty when there is no conflict. */
  conflict: number[];
}

/** Statements learnt from a dead end, at least one of which holds: [bound, value, …]; the first two are watched. */
export interface Clause {
  statements: number[];
  activity: number;
  /** Forgotten: watchers drop it when they meet it. */
  gone: boolean;
}

/** Why a bound rose. */
export type Reason =
  /** Because another bound stands at least `by` below. */
  | { kind: 'lag'; from: number; by: number }
  /** Because these statements hold. */
  | { kind: 'facts'; facts: number[] }
  /** Because every other statement of a clause is false. */
  | { kind: 'clause'; clause: Clause };

/** A state with bounds as given. */
export function openState(bounds: Int32Array): State {
  return {
    bounds,
    keys: [],
    olds: [],
    reasons: [],
    previous: [],
    last: new Int32Array(bounds.length).fill(-1),
    levels: [],
    conflict: [],
  };
}

/** Raises a bound to `value`, if it is lower. False when earliest and latest then cross; the conflict says which statements did it. */
export function raise(s: State, key: number, value: number, reason: Reason | null): boolean {
  if (value <= s.bounds[key]!) return true;
  const at = s.keys.length;
  s.keys.push(key);
  s.olds.push(s.bounds[key]!);
  s.reasons.push(reason);
  s.previous.push(s.last[key]!);
  s.last[key] = at;
  s.bounds[key] = value;
  const other = s.bounds[key ^ 1]!;
  if (value + other <= 0) return true;
  // "At least 1 − other" is the opposite of what the other bound says; only why it was claimed can teach something.
  s.conflict = [...(reason ? whyOf(reason, key, 1 - other) : []), key ^ 1, other];
  return false;
}

/** Takes back every rise above a level. */
export function backTo(s: State, level: number): void {
  if (s.levels.length <= level) return;
  const length = s.levels[level]!;
  for (let at = s.keys.length - 1; at >= length; at--) {
    const key = s.keys[at]!;
    s.bounds[key] = s.olds[at]!;
    s.last[key] = s.previous[at]!;
  }
  for (const list of [s.keys, s.olds, s.reasons, s.previous]) list.length = length;
  s.levels.length = level;
  s.conflict = [];
}

/** The rise that first made "bound key is at least value" true; −1 when it held at the root's beginning. */
export function riseOf(s: State, key: number, value: number): number {
  let at = s.last[key]!;
  while (at >= 0 && s.olds[at]! >= value) at = s.previous[at]!;
  return at;
}

/** Level at which a rise happened. */
export function levelOf(s: State, at: number): number {
  let low = 0;
  let high = s.levels.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (s.levels[middle]! <= at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Statements that together imply "bound key is at least value", for the rise that made it so. */
export function whyOf(reason: Reason, key: number, value: number): number[] {
  if (reason.kind === 'lag') return [reason.from, value - reason.by];
  if (reason.kind === 'facts') return reason.facts;
  const facts: number[] = [];
  const { statements } = reason.clause;
  for (let i = 0; i < statements.length; i += 2)
    if (statements[i] !== key) facts.push(statements[i]! ^ 1, 1 - statements[i + 1]!);
  return facts;
}
