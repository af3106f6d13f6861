/** Whether the screen is kept awake. `refused` carries no reason: browsers give none that would help. */
export type Awake = 'off' | 'held' | 'released' | 'unavailable' | 'refused';

/**
 * Keeps the screen awake while it is asked to. A browser lets go whenever the page is out of sight, so it is asked for again as soon as the page is
 * back. The returned function ends it.
 */
export function keepAwake(tell: (awake: Awake) => void): () => void {
  if (!('wakeLock' in navigator)) {
    tell('unavailable');
    return () => {};
  }
  let wanted = true;
  let sentinel: WakeLockSentinel | null = null;
  const ask = async (): Promise<void> => {
    if (!wanted || document.visibilityState !== 'visible' || (sentinel && !sentinel.released)) return;
    try {
      sentinel = await navigator.wakeLock.request('screen');
      sentinel.addEventListener('release', () => wanted && tell('released'));
      tell('held');
      if (!wanted) await sentinel.release();
    } catch {
      tell('refused');
    }
  };
  const back = (): void => void ask();
  document.addEventListener('visibilitychange', back);
  void ask();
  return () => {
    wanted = false;
    document.removeEventListener('visibilitychange', back);
    void sentinel?.release();
    tell('off');
  };
}
