import type { Plan, TraceMapping, TracePreview } from '@pourline/core';
import { proxy, type Remote, wrap } from 'comlink';
import type { TraceFound } from './found.ts';
import type { TraceWorker } from './worker.ts';

/** Reading recordings off the main thread, one at a time. */
export interface TraceRoom {
  /** The first look at a file. Rejects when the browser cannot read it. */
  look(file: Blob): Promise<TracePreview>;
  /** Everything in it; null when stopped, or when another reading began. */
  read(
    file: Blob,
    mapping: TraceMapping,
    plan: Plan | null,
    report: (done: number) => void,
  ): Promise<TraceFound | null>;
  /** Ends what runs at once. */
  stop(): void;
  /** Ends the worker and lets go of its file. */
  close(): void;
}

interface Running {
  worker: Worker;
  remote: Remote<TraceWorker>;
  file: Blob | null;
}

const open = (): Running => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  return { worker, remote: wrap<TraceWorker>(worker), file: null };
};

/** Opens a room for recordings; its worker starts with the first file. Reading hears nothing while it runs, so stopping ends its worker. */
export function openTraceRoom(): TraceRoom {
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
  const load = async (file: Blob): Promise<{ mine: Running; preview: TracePreview | null }> => {
    running ??= open();
    const mine = running;
    if (mine.file === file) return { mine, preview: null };
    mine.file = null;
    const preview = await mine.remote.load(file);
    mine.file = file;
    return { mine, preview };
  };
  return {
    stop,
    close,
    async look(file) {
      stop();
      if (running) running.file = null;
      const { preview } = await load(file);
      if (!preview) throw new Error('look: the file was not read anew');
      return preview;
    },
    async read(file, mapping, plan, report) {
      stop();
      const stopped = new Promise<null>((resolve) => {
        stopCurrent = () => resolve(null);
      });
      const myStop = stopCurrent;
      let over = false;
      const work = async (): Promise<TraceFound> => {
        const { mine } = await load(file);
        // Reports travel on a road of their own and may come in after the answer.
        return mine.remote.read(
          mapping,
          plan,
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
