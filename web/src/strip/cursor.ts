/** The moment under the crosshair, shared by all lanes without rendering anything but what shows it. */
export interface Cursor {
  /** Moment shown [s]: under the pointer, else where it was put; null when it was never put anywhere. */
  get(): number | null;
  subscribe(listener: () => void): () => void;
  /** Follows the pointer; null when the pointer has left. */
  hover(time_s: number | null): void;
  /** Stays there after the pointer has left; null goes back to the end of the brew. */
  put(time_s: number | null): void;
}

export function makeCursor(): Cursor {
  const listeners = new Set<() => void>();
  let hovered: number | null = null;
  let kept: number | null = null;
  const tell = (): void => {
    for (const listener of listeners) listener();
  };
  return {
    get: () => hovered ?? kept,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    hover(time_s) {
      if (time_s === hovered) return;
      hovered = time_s;
      tell();
    },
    put(time_s) {
      hovered = null;
      kept = time_s;
      tell();
    },
  };
}
