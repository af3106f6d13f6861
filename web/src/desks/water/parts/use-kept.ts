import { useCallback, useState } from 'react';

type Fields = Record<string, unknown>;

/** What was kept under a key, field by field where it still has the kind of value that is expected. */
export function readKept<T extends object>(text: string | null, initial: T): T {
  if (text === null) return initial;
  try {
    const kept = JSON.parse(text) as Fields;
    const of = initial as Fields;
    const entries = Object.entries(of).map(([key, usual]) => {
      const found = kept[key];
      const fits = found !== undefined && (usual === null || found === null || typeof found === typeof usual);
      return [key, fits ? found : usual];
    });
    return Object.fromEntries(entries) as T;
  } catch {
    return initial;
  }
}

function stored(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * A few settings of this browser that outlive the page: what is on the bench and how it is looked at, nothing that belongs to a
 * document.
 */
export function useKept<T extends object>(name: string, initial: T): [T, (change: Partial<T>) => void] {
  const key = `pourline.${name}`;
  const [value, setValue] = useState(() => readKept(stored(key), initial));
  const change = useCallback(
    (part: Partial<T>) =>
      setValue((now) => {
        const next = { ...now, ...part };
        try {
          localStorage.setItem(key, JSON.stringify(next));
        } catch {
          // Without storage the setting simply does not outlive the page.
        }
        return next;
      }),
    [key],
  );
  return [value, change];
}
