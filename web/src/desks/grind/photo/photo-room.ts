import type { PhotoMeasurement, PhotoOptions } from '@pourline/core';
import { proxy, type Remote, wrap } from 'comlink';
import type { PhotoWorker } from './worker.ts';

/** Measuring photographs off the main thread, one at a time. */
export interface PhotoRoom {
  /**
   * Measures a picture; the same file is decoded once. Resolves to null when stopped, or when another measurement began. Rejects when
   * the browser cannot read the file.
   */
  measure(
    file: Blob,
    options: PhotoOptions,
    report: (done: number) => void,
  ): Promise<PhotoMeasurement | null>;
  /** Ends what runs at once. */
  stop(): void;
  /** Ends the worker and lets go of its picture. */
  close(): void;
}

interface Running {
  worker: Worker;
  remote: Remote<PhotoWorker>;
  /** The file whose picture it holds. */
  file: Blob | null;
}

const open = (): Running => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  return { worker, remote: wrap<PhotoWorker>(worker), file: null };
};

/**
 * Opens a room for photographs; its worker starts with the first one. A measurement hears nothing while it runs, so stopping it means ending its
 * worker; the next one starts a new worker and decodes again.
 */
export function openPhotoRoom(): PhotoRoom {
  let running: Running | null = null;
  let stopCurrent: (() => void) | null = null;
  const close = (): void => {
    running?.worker.terminate();
    running = null;
    stopCurrent?.();
    stopCurrent = null;
  };
  const stop = (): void => {
    if (stopCurrent) close();
  };
  return {
    stop,
    close,
    async measure(file, options, report) {
      stop();
      running ??= open();
      const mine = running;
      const stopped = new Promise<null>((resolve) => {
        stopCurrent = () => resolve(null);
      });
      const myStop = stopCurrent;
      let over = false;
      const work = async (): Promise<PhotoMeasurement | null> => {
        if (mine.file !== file) {
          mine.file = null;
          await mine.remote.load(file);
          mine.file = file;
        }
        // Reports travel on a road of their own and may come in after the answer.
        return mine.remote.measure(
          options,
          proxy((done: number) => void (over || report(done))),
        );
      };
      try {
        return await Promise.race([work(), stopped]);
      } finally {
        over = true;
        if (stopCurrent === myStop) stopCurrent = null;
      }
    },
  };
}
