/** What the keyboard does to a thing on the time axis. */

/** What a key press asks for. */
export type KeyPlan =
  /** Move in time [s]. */
  | { do: 'move'; by_s: number }
  /** Make the pour longer or shorter [s]. */
  | { do: 'resize'; by_s: number }
  /** More or less water [g]. */
  | { do: 'grams'; by_g: number }
  | { do: 'remove' }
  | { do: 'first' }
  | { do: 'last' };

export interface KeyPress {
  readonly key: string;
  readonly shift: boolean;
  /** Alt is held: arrows sideways then change the length. */
  readonly alt: boolean;
  /** Ctrl or Cmd is held: the browser's or the app's business, never ours. */
  readonly command: boolean;
}

/** Arrows move by 1 s or 1 g, with shift by 5; with alt they change the length. Null when the key means nothing here. */
export function planKey(press: KeyPress): KeyPlan | null {
  if (press.command) return null;
  const step = press.shift ? 5 : 1;
  switch (press.key) {
    case 'ArrowLeft':
      return press.alt ? { do: 'resize', by_s: -step } : { do: 'move', by_s: -step };
    case 'ArrowRight':
      return press.alt ? { do: 'resize', by_s: step } : { do: 'move', by_s: step };
    case 'ArrowUp':
      return { do: 'grams', by_g: step };
    case 'ArrowDown':
      return { do: 'grams', by_g: -step };
    case 'Delete':
    case 'Backspace':
      return { do: 'remove' };
    case 'Home':
      return { do: 'first' };
    case 'End':
      return { do: 'last' };
    default:
      return null;
  }
}
