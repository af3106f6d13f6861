import { useCallback, useSyncExternalStore } from 'react';

/** Whether the page is at most so wide (a CSS length), followed as it changes. */
export function useNarrow(width: string): boolean {
  const query = `(max-width: ${width})`;
  const subscribe = useCallback(
    (tell: () => void) => {
      const media = matchMedia(query);
      media.addEventListener('change', tell);
      return () => media.removeEventListener('change', tell);
    },
    [query],
  );
  return useSyncExternalStore(subscribe, () => matchMedia(query).matches);
}
