import { type Remote, wrap } from 'comlink';
import type { GrindWorker } from './worker.ts';

/** A worker of the grind desk and its far end. */
export interface GrindRoom {
  worker: Worker;
  remote: Remote<GrindWorker>;
}

/** Opens one more worker. */
export const openGrindRoom = (): GrindRoom => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  return { worker, remote: wrap<GrindWorker>(worker) };
};

let shared: GrindRoom | null = null;

/** The room for what must answer at once; opened on first use. */
export function theGrindRoom(): GrindRoom {
  shared ??= openGrindRoom();
  return shared;
}
