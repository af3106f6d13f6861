import { setFlagsFromString } from 'node:v8';
import { Worker } from 'node:worker_threads';
import { printTable } from '../table.ts';
import type { Taken } from './allocation.ts';

/** Records that fit before the trace's rows double, see recorder.ts. */
const FIRST_ROWS = 192;
const YOUNG_MB = 512;

/** Bytes of all the rows that a trace of `records` goes through, each time twice as many. */
function rowsOf(records: number, width: number): number {
  let capacity = FIRST_ROWS;
  let bytes = capacity * width * 8;
  while (capacity < records) {
    capacity *= 2;
    bytes += capacity * width * 8;
  }
  return bytes;
}

/** What a run allocates, at three tolerances: the same but for the record of the trace. */
export async function memory(): Promise<void> {
  setFlagsFromString('--expose-gc');
  const rows = await new Promise<Taken[]>((resolve, reject) => {
    const worker = new Worker(new URL('./allocation-worker.mjs', import.meta.url), {
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
    });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
  const kB = (bytes: number) => (bytes / 1e3).toFixed(1);
  printTable(
    `Allocated by one run [kB] (thread with a young space of ${YOUNG_MB} MB, so that nothing is collected meanwhile)`,
    ['tolerance', 'steps', 'tries', 'heap', 'buffers', 'trace rows', 'buffers less rows', 'collections'],
    rows.map((row) => {
      const trace = rowsOf(row.steps + 1, row.width);
      return [
        String(row.tolerance),
        String(row.steps),
        String(row.tries),
        kB(row.heap),
        kB(row.buffers),
        kB(trace),
        kB(row.buffers - trace),
        String(row.collections),
      ];
    }),
  );
  const [first, last] = [rows[0]!, rows.at(-1)!];
  const perTry = (last.heap - first.heap) / (last.tries - first.tries);
  console.log(
    `Heap per further try ${perTry.toFixed(1)} B; per record of the trace ${last.perRecord.toFixed(1)} B, ` +
      `${last.width * 8} B of which stay as its row in a buffer that doubles.`,
  );
}
