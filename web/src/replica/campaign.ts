const KEY = 'pourline.campaign';
const listeners = new Set<() => void>();
let chosen: string | null = null;
try {
  chosen = localStorage.getItem(KEY);
} catch {
  // Without storage the first campaign is shown.
}

/** Which campaign this browser looks at. Not a document: two people look at different ones. */
export const campaignStore = {
  get: (): string | null => chosen,
  set: (id: string): void => {
    chosen = id;
    try {
      localStorage.setItem(KEY, id);
    } catch {
      // The choice then holds until the page closes.
    }
    for (const tell of listeners) tell();
  },
  subscribe: (listener: () => void): (() => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
};
