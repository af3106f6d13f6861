import { propagateClauses, type Watchers, watch } from './clauses.ts';
import { learn } from './learn.ts';
import { endTask, type Model, modelOf } from './model.ts';
import { assertNetwork, type Network, type Starts } from './network.ts';
import { propagatePairs, propagatePool } from './shared-use.ts';
import { backTo, type Clause, openState, raise, type State } from './state.ts';

/** What to look for. */
export type Aim =
  /** Everything done as early as possible. */
  | { what: 'end' }
  /** One task as late as possible. */
  | { what: 'latest'; task: string }
  /** Any schedule at all. */
  | { what: 'any' };

export interface SearchOptions {
  /** Dead ends after which the search gives up; the answer then says what is left open. */
  effort: number;
  /** Smallest gain that is worth looking for [ticks]; a proof is as exact as this. */
  step: number;
}

/** What a search found. `bound` is the best value that has not been excluded. */
export interface Found {
  /** `best`: proven. `some`: a schedule, but a better one is not excluded. `none`: proven that there is none. `open`: neither. */
  answer: 'best' | 'some' | 'none' | 'open';
  starts: Starts | null;
  /** End of everything, or start of the task [ticks]. */
  value: number | null;
  bound: number | null;
  deadEnds: number;
}

interface Run {
  s: State;
  model: Model;
  watchers: Watchers;
  clauses: Clause[];
  activity: Float64Array;
  growth: number;
  /** Next rise to look at. */
  at: number;
}

/** Dead ends before the first restart; a choice. */
const FIRST_RESTART = 60;
/** Clauses kept before the least active half is forgotten; a choice. */
const MOST_CLAUSES = 4_000;

/**
 * Exact search: bounds are propagated along lags, pairs and pools; a dead end is turned into a clause that forbids all dead ends like it;
 * each schedule found forbids every one that is not better. Ends with a proof or when the effort is used up. The same input
 * gives the same answer.
 * @throws Error when the network breaks its contract (`assertNetwork`).
 */
export function search(network: Network, aim: Aim, options: Partial<SearchOptions> = {}): Found {
  assertNetwork(network);
  const { effort = 20_000, step = 1 } = options;
  const model = modelOf(network);
  const run = openRun(model);
  const goal =
    aim.what === 'latest' ? 2 * network.tasks.findIndex(({ id }) => id === aim.task) + 1 : 2 * endTask(model);
  if (goal < 0) throw new Error('search: the task to start as late as possible is not in the network.');
  const worth = (bound: number) => (goal & 1 ? -bound : bound);
  let best: Int32Array | null = null;
  const found = (answer: Found['answer'], deadEnds: number): Found => ({
    answer,
    deadEnds,
    starts: best && Object.fromEntries(network.tasks.map(({ id }, i) => [id, best![2 * i]!])),
    value: best && worth(best[goal]!),
    bound:
      answer === 'best' && best ? worth(best[goal]!) : answer === 'none' ? null : worth(run.s.bounds[goal]!),
  });
  let deadEnds = 0;
  let restart = 1;
  let untilRestart = FIRST_RESTART;
  if (!crossed(run)) return found('none', 0);
  for (;;) {
    if (!propagate(run)) {
      deadEnds++;
      if (!backAndLearn(run)) return found(best ? 'best' : 'none', deadEnds);
      if (deadEnds >= effort) {
        backTo(run.s, 0);
        return found(best ? 'some' : 'open', deadEnds);
      }
      if (--untilRestart <= 0) {
        untilRestart = FIRST_RESTART * luby(++restart);
        toRoot(run);
        forget(run);
      }
      continue;
    }
    const task = chooseTask(run, restart);
    if (task >= 0) {
      run.s.levels.push(run.s.keys.length);
      raise(run.s, 2 * task + 1, -run.s.bounds[2 * task]!, null);
      continue;
    }
    best = run.s.bounds.slice();
    if (aim.what === 'any') return found('some', deadEnds);
    toRoot(run);
    if (!raise(run.s, goal ^ 1, step - best[goal]!, null)) return found('best', deadEnds);
  }
}

function openRun(model: Model): Run {
  const s = openState(model.bounds.slice());
  const watchers: Watchers = Array.from(s.bounds, () => []);
  return { s, model, watchers, clauses: [], activity: new Float64Array(model.count), growth: 1, at: 0 };
}

/** Follows every lag once from the bounds as given. False when a window is empty. */
function crossed({ s, model }: Run): boolean {
  for (let key = 0; key < s.bounds.length; key++) if (s.bounds[key]! + s.bounds[key ^ 1]! > 0) return false;
  for (let key = 0; key < s.bounds.length; key++)
    for (const { to, by, reason } of model.follow[key]!)
      if (!raise(s, to, s.bounds[key]! + by, reason)) return false;
  return true;
}

function propagate(run: Run): boolean {
  const { s, model } = run;
  for (;;) {
    while (run.at < s.keys.length) {
      const key = s.keys[run.at++]!;
      const bound = s.bounds[key]!;
      for (const { to, by, reason } of model.follow[key]!)
        if (bound + by > s.bounds[to]! && !raise(s, to, bound + by, reason)) return false;
      if (!propagateClauses(s, run.watchers, key)) return false;
    }
    const before = s.keys.length;
    if (!propagatePairs(s, model)) return false;
    if (s.keys.length > before) continue;
    for (const pool of model.pools) {
      if (!propagatePool(s, model, pool)) return false;
      if (s.keys.length > before) break;
    }
    if (s.keys.length === before) return true;
  }
}

function toRoot(run: Run): void {
  backTo(run.s, 0);
  run.at = Math.min(run.at, run.s.keys.length);
}

/** Learns from the conflict, goes back as far as it matters and follows what was learnt. False when nothing is left to try. */
function backAndLearn(run: Run): boolean {
  const lesson = learn(run.s, (key) => {
    run.activity[key >> 1] = run.activity[key >> 1]! + run.growth;
  });
  if (!lesson) return false;
  run.growth *= 1.05;
  if (run.growth > 1e100) {
    for (let i = 0; i < run.activity.length; i++) run.activity[i] = run.activity[i]! * 1e-100;
    run.growth = 1;
  }
  backTo(run.s, lesson.level);
  run.at = run.s.keys.length;
  const clause: Clause = { statements: lesson.statements, activity: run.growth, gone: false };
  if (clause.statements.length > 2) {
    run.clauses.push(clause);
    watch(run.watchers, clause);
  }
  const [key, value] = clause.statements;
  return raise(run.s, key!, value!, { kind: 'clause', clause });
}

/** Forgets the less active half of a long list of clauses; at the root none of them is a reason. */
function forget(run: Run): void {
  if (run.clauses.length < MOST_CLAUSES) return;
  run.clauses.sort((a, b) => b.activity / b.statements.length - a.activity / a.statements.length);
  for (const clause of run.clauses.splice(MOST_CLAUSES / 2)) clause.gone = true;
}

/** The next open task: in turns the one that can start first, and the one that most dead ends were about. −1 when all are fixed. */
function chooseTask({ s, activity, model }: Run, restart: number): number {
  let chosen = -1;
  for (let i = 0; i < model.count; i++) {
    if (s.bounds[2 * i]! + s.bounds[2 * i + 1]! === 0) continue;
    if (chosen < 0 || isBefore(s, activity, restart, i, chosen)) chosen = i;
  }
  return chosen;
}

function isBefore(s: State, activity: Float64Array, restart: number, i: number, j: number): boolean {
  if (restart % 2 === 0 && activity[i] !== activity[j]) return activity[i]! > activity[j]!;
  if (s.bounds[2 * i] !== s.bounds[2 * j]) return s.bounds[2 * i]! < s.bounds[2 * j]!;
  return s.bounds[2 * i + 1]! > s.bounds[2 * j + 1]!;
}

/** Luby, Sinclair & Zuckerman's series of restarts: 1 1 2 1 1 2 4 … (1993, from memory). */
function luby(n: number): number {
  let size = 1;
  while (size < n + 1) size *= 2;
  return size - 1 === n ? size / 2 : luby(n - size / 2 + 1);
}
