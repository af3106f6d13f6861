import { useLayoutEffect, useState, useSyncExternalStore } from 'react';
import { type Latest, makeLatest } from '../../../engine/latest.ts';

/** The newest answer to a question that keeps changing; `run` must not change. Null keeps the last answer, marked stale. */
export function useAnswer<I, O>(run: (question: I) => Promise<O>, question: I | null): Latest<I, O> {
  const [store] = useState(() => makeLatest(run));
  useLayoutEffect(() => store.ask(question), [store, question]);
  return useSyncExternalStore(store.subscribe, store.get);
}
