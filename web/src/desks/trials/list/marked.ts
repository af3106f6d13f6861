import { useCallback, useSyncExternalStore } from 'react';

/** The trial under a pointer or in focus, shared by list and plot without rendering either of them whole. */
export interface Marked {
  get(): string | null;
  subscribe(listener: () => void): () => void;
  put(id: string | null): void;
  /** Says that a mark of the plot was chosen: the list brings its row into view. */
  point(id: string): void;
  onPoint(listener: (id: string) => void): () => void;
}

export function makeMarked(): Marked {
  const listeners = new Set<() => void>();
  const pointed = new Set<(id: string) => void>();
  let now: string | null = null;
  const put = (id: string | null): void => {
    if (id === now) return;
    now = id;
    for (const tell of listeners) tell();
  };
  return {
    get: () => now,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    put,
    point(id) {
      put(id);
      for (const tell of pointed) tell(id);
    },
    onPoint(listener) {
      pointed.add(listener);
      return () => pointed.delete(listener);
    },
  };
}

/** Whether one trial is the marked one; renders only the rows whose answer changes. */
export function useIsMarked(marked: Marked, id: string): boolean {
  const read = useCallback(() => marked.get() === id, [marked, id]);
  return useSyncExternalStore(marked.subscribe, read);
}
