import '../../../no-eval.ts';
import { measurePhoto, type PhotoImage, type PhotoMeasurement, type PhotoOptions } from '@pourline/core';
import { expose } from 'comlink';

/** What the page may ask of the worker. */
export interface PhotoWorker {
  /** Decodes a picture and keeps it. Rejects when the browser cannot read it. */
  load(file: Blob): Promise<{ width: number; height: number }>;
  /** Measures the picture that was loaded last. `report` is told the share done, 0–1. */
  measure(options: PhotoOptions, report: (done: number) => void): PhotoMeasurement | null;
}

let image: PhotoImage | null = null;

/** Reports closer together than this are not sent [ms]. */
const BETWEEN_REPORTS = 60;

const worker: PhotoWorker = {
  async load(file) {
    image = null;
    const bitmap = await createImageBitmap(file);
    const { width, height } = bitmap;
    const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
    if (!context) throw new Error('load: the browser gave no canvas');
    context.drawImage(bitmap, 0, 0);
    bitmap.close();
    image = { width, height, data: context.getImageData(0, 0, width, height).data };
    return { width, height };
  },
  measure(options, report) {
    if (!image) throw new Error('measure: no picture was loaded');
    let last = 0;
    return measurePhoto(image, options, (done) => {
      const now = performance.now();
      if (now - last > BETWEEN_REPORTS || done === 1) report(done);
      if (now - last > BETWEEN_REPORTS) last = now;
      return true;
    });
  },
};

expose(worker);
