import { levelOf, riseOf, type State, whyOf } from './state.ts';

/** What a dead end teaches: statements of which one must hold, and how far back it matters. */
export interface Lesson {
  /** [bound, value, …]; the first is the one that the level to return to leaves open. */
  statements: number[];
  level: number;
}

/**
 * Learns from a conflict by going back along its reasons until one statement of the newest level explains all of it (first
 * unique implication point; Marques-Silva & Sakallah 1999; with bounds as statements, as in lazy clause generation, Ohrimenko,
 * Stuckey & Codish 2009; both from memory). Null at the root: nothing can be kept.
 *
 * @param seen called for every bound that took part
 */
export function learn(s: State, seen: (key: number) => void): Lesson | null {
  if (s.levels.length === 0) return null;
  const need = new Map<number, number>();
  const opened = s.levels.at(-1)!;
  let open = 0;
  const want = (facts: readonly number[]): void => {
    for (let i = 0; i < facts.length; i += 2) {
      const key = facts[i]!;
      const value = facts[i + 1]!;
      const had = need.get(key);
      if (had !== undefined && had >= value) continue;
      const at = riseOf(s, key, value);
      if (at < 0 || levelOf(s, at) === 0) continue;
      const wasOpen = had !== undefined && riseOf(s, key, had) >= opened;
      if (at >= opened && !wasOpen) open++;
      need.set(key, value);
      seen(key);
    }
  };
  want(s.conflict);
  for (let at = s.keys.length - 1; at >= opened; at--) {
    const key = s.keys[at]!;
    const value = need.get(key);
    if (value === undefined || s.olds[at]! >= value) continue;
    const reason = s.reasons[at];
    if (open === 1 || !reason) return lessonFrom(s, need, key);
    open--;
    need.delete(key);
    want(whyOf(reason, key, value));
  }
  // Everything lay at older levels: the newest decision had no part in it, so the newest of them is the point.
  return lessonFrom(s, need, newest(s, need));
}

function newest(s: State, need: ReadonlyMap<number, number>): number {
  let best = -1;
  let found = -1;
  for (const [key, value] of need) {
    const at = riseOf(s, key, value);
    if (at <= best) continue;
    best = at;
    found = key;
  }
  return found;
}

/** Drops what the rest implies, turns needs into the clause that forbids them, and finds where to go back to. */
function lessonFrom(s: State, need: Map<number, number>, point: number): Lesson | null {
  if (point < 0) return null;
  for (const [key, value] of need) {
    if (key === point) continue;
    const reason = s.reasons[riseOf(s, key, value)];
    if (reason && isImplied(s, need, key, whyOf(reason, key, value))) need.delete(key);
  }
  const statements = [point ^ 1, 1 - need.get(point)!];
  let level = 0;
  let second = -1;
  for (const [key, value] of need) {
    if (key === point) continue;
    const at = levelOf(s, riseOf(s, key, value));
    if (at > level) {
      level = at;
      second = statements.length;
    }
    statements.push(key ^ 1, 1 - value);
  }
  if (second > 2) swap(statements, 2, second);
  return { statements, level };
}

/** Whether facts follow from the other needs. A need of the same bound may be the very one asked about, so it does not count. */
const isImplied = (
  s: State,
  need: ReadonlyMap<number, number>,
  asked: number,
  facts: readonly number[],
): boolean => {
  for (let i = 0; i < facts.length; i += 2) {
    const had = facts[i] === asked ? undefined : need.get(facts[i]!);
    if (had !== undefined && had >= facts[i + 1]!) continue;
    const at = riseOf(s, facts[i]!, facts[i + 1]!);
    if (at >= 0 && levelOf(s, at) > 0) return false;
  }
  return true;
};

/** Swaps two statements of a flat list. */
export function swap(statements: number[], a: number, b: number): void {
  for (const i of [0, 1]) {
    const kept = statements[a + i]!;
    statements[a + i] = statements[b + i]!;
    statements[b + i] = kept;
  }
}
