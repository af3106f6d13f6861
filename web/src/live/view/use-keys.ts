import { useEffect, useRef } from 'react';

export interface LiveKeys {
  tap: (mono_ms: number) => void;
  undo: (mono_ms: number) => void;
  mark: (mono_ms: number) => void;
  late: () => void;
}

/** Keys of a keyboard, and those that pocket remotes for slides send. */
const TAP = new Set([' ', 'Enter', 'PageDown', 'ArrowRight']);
const UNDO = new Set(['Backspace', 'PageUp', 'ArrowLeft']);

/** Lets the run be followed by keys alone. A key that presses the button in focus is left to it; one that is held down counts once. */
export function useKeys(keys: LiveKeys): void {
  const held = useRef(keys);
  held.current = keys;
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
      const onButton =
        event.target instanceof HTMLElement && event.target.closest('button, input, a, select');
      if (onButton && (event.key === ' ' || event.key === 'Enter' || event.key.startsWith('Arrow'))) return;
      if (TAP.has(event.key)) held.current.tap(event.timeStamp);
      else if (UNDO.has(event.key)) held.current.undo(event.timeStamp);
      else if (event.key === 'm') held.current.mark(event.timeStamp);
      else if (event.key === 'l') held.current.late();
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}
