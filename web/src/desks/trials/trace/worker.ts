import '../../../no-eval.ts';
import { lookAtTrace, type Plan, type TraceMapping, type TracePreview, traceReader } from '@pourline/core';
import { expose } from 'comlink';
import { foundIn, type TraceFound } from './found.ts';

/** What the page may ask of the worker that reads recordings. */
export interface TraceWorker {
  /** Reads a file in, keeps its text, and proposes how to read it. */
  load(file: Blob): Promise<TracePreview>;
  /** Reads the file that was loaded last, its pours set against a plan's. `report` is told the share done, 0–1. */
  read(mapping: TraceMapping, plan: Plan | null, report: (done: number) => void): TraceFound;
}

/** Text fed at once: so often is progress told. */
const PIECE = 1 << 19;
/** Share of the work that reading the text is; the rest finds pours. */
const READING = 0.8;

let text = '';

/** Text of a file: UTF-16 when its first bytes say so, else UTF-8. */
async function textOf(file: Blob): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const wide = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const label = wide ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8';
  return new TextDecoder(label).decode(bytes);
}

const worker: TraceWorker = {
  async load(file) {
    text = await textOf(file);
    return lookAtTrace(text);
  },
  read(mapping, plan, report) {
    const reader = traceReader(mapping);
    for (let at = 0; at < text.length; at += PIECE) {
      reader.feed(text.slice(at, at + PIECE));
      report((READING * Math.min(text.length, at + PIECE)) / Math.max(1, text.length));
    }
    const recording = reader.finish();
    report(READING + 0.05);
    return foundIn(recording, plan);
  },
};

expose(worker);
