import { useMemo, useSyncExternalStore } from 'react';

/** Desks that have a place in the address. */
export const DESKS = ['brew', 'shelf'] as const;
export type Desk = (typeof DESKS)[number];

const isDesk = (value: string | undefined): value is Desk => DESKS.some((desk) => desk === value);

function subscribe(listener: () => void): () => void {
  addEventListener('hashchange', listener);
  return () => removeEventListener('hashchange', listener);
}

const hash = (): string => location.hash;

/** The address after `#/`: a desk, and what the desk made of the rest. */
export function useRoute(): { desk: Desk; rest: readonly string[] } {
  const now = useSyncExternalStore(subscribe, hash);
  return useMemo(() => {
    const [desk, ...rest] = now.replace(/^#\/?/, '').split('/').filter(Boolean).map(decodeURIComponent);
    return isDesk(desk) ? { desk, rest } : { desk: 'brew', rest: [] };
  }, [now]);
}

/** The address of a place in a desk, for links. */
export function hrefOf(desk: Desk, ...rest: readonly string[]): string {
  return `#/${[desk, ...rest].map(encodeURIComponent).join('/')}`;
}

/** Goes there, with a step back in the browser's history. */
export function go(desk: Desk, ...rest: readonly string[]): void {
  location.hash = hrefOf(desk, ...rest);
}
