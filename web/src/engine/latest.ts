import { latestWins } from './latest-wins.ts';

/** The newest answer there is to a question that keeps changing. */
export interface Latest<Input, Output> {
  /** The newest answer; kept while the next is computed. */
  readonly output: Output | null;
  /** What it answers. */
  readonly input: Input | null;
  /** It does not belong to what was asked last: that cannot be computed, or failed. */
  readonly stale: boolean;
  /** Why, when the computation failed. */
  readonly failure: string | null;
}

export interface LatestStore<Input, Output> {
  get(): Latest<Input, Output>;
  subscribe(listener: () => void): () => void;
  /** Asks; the same question again costs nothing. Null marks the answer on screen as stale. */
  ask(input: Input | null): void;
}

/** Keeps one answer up to date over a computation that runs elsewhere: one at a time, the newest question next. */
export function makeLatest<Input, Output>(
  run: (input: Input) => Promise<Output>,
): LatestStore<Input, Output> {
  const listeners = new Set<() => void>();
  let state: Latest<Input, Output> = { output: null, input: null, stale: false, failure: null };
  let wanted: string | null = null;
  const set = (change: Partial<Latest<Input, Output>>): void => {
    state = { ...state, ...change };
    for (const tell of listeners) tell();
  };
  const queue = latestWins<Input, Output>(
    run,
    (output, input) => set({ output, input, stale: wanted === null, failure: null }),
    (reason, input) => {
      if (JSON.stringify(input) === wanted)
        set({ stale: true, failure: reason instanceof Error ? reason.message : String(reason) });
    },
  );
  return {
    get: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    ask(input) {
      const key = input === null ? null : JSON.stringify(input);
      if (key === wanted) return;
      wanted = key;
      if (input !== null) queue.ask(input);
      else {
        queue.clear();
        set({ stale: state.output !== null });
      }
    },
  };
}
