import { type Remote, wrap } from 'comlink';
import type { PanelWorker } from './worker.ts';

let shared: Remote<PanelWorker> | null = null;

/** The desk's worker; opened on first use. */
export function thePanelRoom(): Remote<PanelWorker> {
  shared ??= wrap<PanelWorker>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }));
  return shared;
}
