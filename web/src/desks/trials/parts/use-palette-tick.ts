import { useSyncExternalStore } from 'react';

let tick = 0;
const listeners = new Set<() => void>();
let watch: MutationObserver | null = null;

function subscribe(tell: () => void): () => void {
  listeners.add(tell);
  watch ??= new MutationObserver(() => {
    tick++;
    for (const listener of listeners) listener();
  });
  watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  return () => listeners.delete(tell);
}

/** A number that rises when the theme changes: canvases are then painted again. */
export const usePaletteTick = (): number => useSyncExternalStore(subscribe, () => tick);
