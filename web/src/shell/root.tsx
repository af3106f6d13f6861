import { lazy, Suspense, use, useMemo, useSyncExternalStore } from 'react';
import { t } from '../words/index.ts';
import { App, preloadDesk } from './app.tsx';
import { routeSteps } from './route.ts';

const loadLive = () => import('../live/live-view.tsx');
const LiveView = lazy(loadLive);

function subscribe(listener: () => void): () => void {
  addEventListener('hashchange', listener);
  return () => removeEventListener('hashchange', listener);
}

const hash = (): string => location.hash;

/** Whether the address leads to the live view, which stands apart from the desks and waits for nothing. */
export const isLive = (): boolean => routeSteps(location.hash)[0] === 'live';

/** Fetches what the address leads to while the documents are still opening. */
export function preload(): void {
  if (isLive()) void loadLive();
  else preloadDesk();
}

/** All there is: the live view over the whole screen, or the app once its documents are open. */
export function Root({ ready }: { ready: Promise<unknown> }) {
  const address = useSyncExternalStore(subscribe, hash);
  const steps = useMemo(() => routeSteps(address), [address]);
  const opened = useMemo(
    () =>
      ready.then(
        () => null,
        (reason: unknown) => (reason instanceof Error ? reason.message : String(reason)),
      ),
    [ready],
  );
  return (
    <Suspense fallback={<p className="desk-wait">{t('common.loading')}</p>}>
      {steps[0] === 'live' ? <LiveView rest={steps.slice(1)} ready={ready} /> : <Desks opened={opened} />}
    </Suspense>
  );
}

/** @param opened what kept the documents from opening, or null */
function Desks({ opened }: { opened: Promise<string | null> }) {
  const detail = use(opened);
  if (detail === null) return <App />;
  return (
    <p className="cannot-open" role="alert">
      {t('shell.cannot_open', { detail })}
    </p>
  );
}
