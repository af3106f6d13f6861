import { useSyncExternalStore } from 'react';

/** What a person may choose; the page then is light or dark. */
export type ThemeChoice = 'system' | 'light' | 'dark';

/** The choices, with the icon each goes by. */
export const THEMES = [
  { key: 'system', icon: 'system' },
  { key: 'light', icon: 'sun' },
  { key: 'dark', icon: 'moon' },
] as const satisfies readonly { key: ThemeChoice; icon: string }[];

const KEY = 'pourline.theme';

function choice(): ThemeChoice {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

function subscribe(listener: () => void): () => void {
  addEventListener('pourline:theme', listener);
  addEventListener('storage', listener);
  return () => {
    removeEventListener('pourline:theme', listener);
    removeEventListener('storage', listener);
  };
}

/** The choice and the way to change it. `public/theme.js` puts it on the page, because it must act before the first paint. */
export function useThemeChoice(): [ThemeChoice, (next: ThemeChoice) => void] {
  return [useSyncExternalStore(subscribe, choice), setTheme];
}

function setTheme(next: ThemeChoice): void {
  try {
    if (next === 'system') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, next);
  } catch {
    // The page then keeps following the system.
  }
  dispatchEvent(new Event('pourline:theme'));
}

function watchPage(listener: () => void): () => void {
  const observer = new MutationObserver(listener);
  observer.observe(document.documentElement, { attributeFilter: ['data-theme'] });
  return () => observer.disconnect();
}

const pageTheme = (): 'light' | 'dark' =>
  document.documentElement.dataset.theme === 'dark' ? 'dark' : 'light';

/** Whether the page is light or dark just now; for drawings that read the colours themselves. */
export function usePageTheme(): 'light' | 'dark' {
  return useSyncExternalStore(watchPage, pageTheme);
}
