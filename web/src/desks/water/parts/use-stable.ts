import { useRef } from 'react';

/** The list as it was before while it holds the very same entries, so that what is drawn from it need not be drawn again. */
export function useStable<T>(list: readonly T[]): readonly T[] {
  const kept = useRef(list);
  const same = kept.current.length === list.length && list.every((entry, i) => entry === kept.current[i]);
  if (!same) kept.current = list;
  return kept.current;
}

/** A function that never changes and always does what the newest one would. */
export function useSteady<A extends unknown[]>(act: (...args: A) => void): (...args: A) => void {
  const newest = useRef(act);
  newest.current = act;
  const steady = useRef((...args: A) => newest.current(...args));
  return steady.current;
}
