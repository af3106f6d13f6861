import { type Remote, wrap } from 'comlink';
import type { TrialsWorker } from './worker.ts';

let shared: Remote<TrialsWorker> | null = null;

/** The desk's worker, opened on first use. */
export function theTrialsRoom(): Remote<TrialsWorker> {
  shared ??= wrap<TrialsWorker>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }));
  return shared;
}
