/** Times a second that everything which may not wait for the screen is looked at. */
const EVERY_MS = 50;

/**
 * Calls `tick` some twenty times a second, also while the page is hidden: a worker's timers are not slowed down with those of a page out of
 * sight. Without workers it falls back to the page's own.
 */
export function startTicker(tick: () => void): () => void {
  try {
    const worker = new Worker(new URL('./tick-worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = tick;
    worker.postMessage(EVERY_MS);
    return () => worker.terminate();
  } catch {
    const timer = setInterval(tick, EVERY_MS);
    return () => clearInterval(timer);
  }
}
