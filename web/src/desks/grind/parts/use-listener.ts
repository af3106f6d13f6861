import { type RefObject, useEffect, useRef } from 'react';

/**
 * Listens on an element for what only a pointer can do there (a touch on a place of a drawing, a file dropped); everything it does
 * must have another way for keys.
 */
export function useListener<E extends Element, N extends keyof HTMLElementEventMap>(
  ref: RefObject<E | null>,
  name: N,
  act: (event: HTMLElementEventMap[N], element: E) => void,
): void {
  const newest = useRef(act);
  newest.current = act;
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const listen = (event: Event): void => newest.current(event as HTMLElementEventMap[N], element);
    element.addEventListener(name, listen);
    return () => element.removeEventListener(name, listen);
  }, [ref, name]);
}
