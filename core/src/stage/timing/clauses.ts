import { swap } from './learn.ts';
import { type Clause, raise, type State } from './state.ts';

/** Clauses by the bound whose rise may make a watched statement false. */
export type Watchers = Clause[][];

const isFalse = (s: State, key: number, value: number): boolean => s.bounds[key ^ 1]! >= 1 - value;
const isTrue = (s: State, key: number, value: number): boolean => s.bounds[key]! >= value;

/** Watches the first two statements of a clause. */
export function watch(watchers: Watchers, clause: Clause): void {
  watchers[clause.statements[0]! ^ 1]!.push(clause);
  if (clause.statements.length > 2) watchers[clause.statements[2]! ^ 1]!.push(clause);
}

/** Looks at every clause that a rise of `key` may have made unit or false. */
export function propagateClauses(s: State, watchers: Watchers, key: number): boolean {
  const list = watchers[key]!;
  let kept = 0;
  for (let i = 0; i < list.length; i++) {
    const clause = list[i]!;
    if (clause.gone) continue;
    const moved = visit(s, watchers, clause, key);
    if (moved === 'moved') continue;
    list[kept++] = clause;
    if (moved !== 'conflict') continue;
    while (++i < list.length) list[kept++] = list[i]!;
    list.length = kept;
    return false;
  }
  list.length = kept;
  return true;
}

function visit(s: State, watchers: Watchers, clause: Clause, key: number): 'stays' | 'moved' | 'conflict' {
  const { statements } = clause;
  if (statements.length === 2)
    return raise(s, statements[0]!, statements[1]!, { kind: 'clause', clause }) ? 'stays' : 'conflict';
  // The watched statement that this rise may have falsified goes second.
  if (statements[0] === (key ^ 1)) swap(statements, 0, 2);
  if (!isFalse(s, statements[2]!, statements[3]!) || isTrue(s, statements[0]!, statements[1]!))
    return 'stays';
  for (let at = 4; at < statements.length; at += 2) {
    if (isFalse(s, statements[at]!, statements[at + 1]!)) continue;
    swap(statements, 2, at);
    watchers[statements[2]! ^ 1]!.push(clause);
    return 'moved';
  }
  return raise(s, statements[0]!, statements[1]!, { kind: 'clause', clause }) ? 'stays' : 'conflict';
}
