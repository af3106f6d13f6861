/** Whether this page may write a run. */
export type Hold = 'asking' | 'held' | 'elsewhere';

/**
 * Takes a run for this page, so that two pages never write one run. Tells when it is held, or that another page has it and keeps it. A page
 * before a reload may hold it for a moment longer, so silence is waited for. The returned function lets go.
 */
export function holdRun(run_id: string, tell: (hold: Hold) => void, take = false): () => void {
  if (!navigator.locks) {
    tell('held');
    return () => {};
  }
  const stop = new AbortController();
  let letGo = (): void => {};
  const patience = setTimeout(() => tell('elsewhere'), 1_500);
  navigator.locks
    .request(`pourline-live|${run_id}`, take ? { steal: true } : { signal: stop.signal }, () => {
      clearTimeout(patience);
      tell('held');
      return new Promise<void>((done) => {
        letGo = done;
      });
    })
    // Another page took it over.
    .catch(() => {
      clearTimeout(patience);
      if (!stop.signal.aborted) tell('elsewhere');
    });
  return () => {
    clearTimeout(patience);
    stop.abort();
    letGo();
  };
}
