import { useMemo, useSyncExternalStore } from 'react';

/** Desks that have a place in the address. */
export const DESKS = ['brew', 'water', 'grind', 'trials', 'panel', 'stage', 'shelf'] as const;
export type Desk = (typeof DESKS)[number];

export interface Route {
  desk: Desk;
  rest: readonly string[];
}

const isDesk = (value: string | undefined): value is Desk => DESKS.some((desk) => desk === value);

function subscribe(listener: () => void): () => void {
  addEventListener('hashchange', listener);
  return () => removeEventListener('hashchange', listener);
}

const hash = (): string => location.hash;

/** The address after `#/`: a desk, and what the desk made of the rest. */
export function useRoute(): Route {
  const now = useSyncExternalStore(subscribe, hash);
  return useMemo(() => routeOf(now), [now]);
}

/** Reads a hash; one that leads nowhere leads to the first desk. */
export function routeOf(now: string): Route {
  const [desk, ...rest] = routeSteps(now);
  return isDesk(desk) ? { desk, rest } : { desk: 'brew', rest: [] };
}

/** The steps of a hash: `#/live/17` is `['live', '17']`. */
export const routeSteps = (now: string): string[] =>
  now.replace(/^#\/?/, '').split('/').filter(Boolean).map(readStep);

function readStep(step: string): string {
  try {
    return decodeURIComponent(step);
  } catch {
    return step;
  }
}

/** The address of a place in a desk, for links. */
export function hrefOf(desk: Desk, ...rest: readonly string[]): string {
  return `#/${[desk, ...rest].map(encodeURIComponent).join('/')}`;
}

/** Goes there, with a step back in the browser's history. */
export function go(desk: Desk, ...rest: readonly string[]): void {
  location.hash = hrefOf(desk, ...rest);
}
