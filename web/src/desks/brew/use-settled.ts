import { useEffect, useReducer, useRef } from 'react';

/**
 * A value once it has been still for `ms`; until then the one before. With `ms` 0 it does not lag at all. For what is heavy
 * to draw and need not follow a finger.
 */
export function useSettled<T>(value: T, ms: number): T {
  const kept = useRef(value);
  const [, redraw] = useReducer((count: number) => count + 1, 0);
  if (ms === 0) kept.current = value;
  useEffect(() => {
    if (Object.is(kept.current, value)) return;
    const timer = setTimeout(() => {
      kept.current = value;
      redraw();
    }, ms);
    return () => clearTimeout(timer);
  }, [value, ms]);
  return kept.current;
}
