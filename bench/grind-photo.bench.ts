import { performance } from 'node:perf_hooks';
import { measurePhoto, type PhotoImage, summarisePhoto } from '../core/src/grind/photo/index.ts';
import { asPhoto, plainCamera, renderLight } from '../core/src/grind/photo/testing/render.ts';
import { scatter } from '../core/src/grind/photo/testing/scatter.ts';
import { dice } from '../core/src/grind/photo/testing/shape.ts';
import { growth, machine } from './measure.ts';
import { printTable } from './table.ts';

/** Side of the tile that large pictures are laid out with [px]. */
const TILE = 1000;

/** A tile of grains, noise and uneven light: the same one each time. */
function tile(): PhotoImage {
  const random = dice(1);
  const shapes = scatter(
    {
      count: 250,
      modes: [{ share: 1, median_px: 22, gsd: 1.4 }],
      width: TILE,
      height: TILE,
      touching: 0.1,
      cut: false,
      rough: 0.06,
      slender: 1.3,
    },
    random,
  );
  const camera = { ...plainCamera(TILE, TILE), noise: 0.02, blur: 1 };
  return asPhoto(renderLight(shapes, camera, random), TILE, TILE);
}

/** Tiles side by side: the number of grains grows with the picture. */
function laid(one: PhotoImage, columns: number, rows: number): PhotoImage {
  const width = columns * TILE;
  const height = rows * TILE;
  const data = new Uint8ClampedArray(4 * width * height);
  for (let y = 0; y < height; y++)
    for (let i = 0; i < columns; i++) {
      const from = 4 * TILE * (y % TILE);
      data.set(one.data.subarray(from, from + 4 * TILE), 4 * (y * width + i * TILE));
    }
  return { width, height, data };
}

/** Seconds by the clock and by the processor. */
function timed(work: () => void): { clock: number; cpu: number } {
  const began = performance.now();
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return { clock: (performance.now() - began) / 1000, cpu: (user + system) / 1e6 };
}

/** Time of a photograph as it grows, how soon it hears a stop, and the time of a summary. */
export async function bench(): Promise<void> {
  console.log(`\nPhotographs of grains — ${machine()}`);
  const one = tile();
  const options = { scale: { by: 'pixel', um_per_px: 15 } } as const;
  measurePhoto(one, options);
  const megapixels: number[] = [];
  const processor: number[] = [];
  const rows = [
    [1, 1],
    [2, 1],
    [2, 2],
    [3, 2],
    [4, 3],
    [6, 4],
  ].map(([columns, lines]) => {
    const image = laid(one, columns!, lines!);
    let last = performance.now();
    let longest = 0;
    let grains = 0;
    let summaryTime = 0;
    const { clock, cpu } = timed(() => {
      const m = measurePhoto(image, options, () => {
        longest = Math.max(longest, performance.now() - last);
        last = performance.now();
        return true;
      });
      if (!m) return;
      grains = m.grains.length;
      summaryTime = timed(() => summarisePhoto(m)).clock;
    });
    megapixels.push(columns! * lines!);
    processor.push(cpu);
    return [
      `${columns! * lines!} megapixels`,
      String(grains),
      (clock - summaryTime).toFixed(2),
      cpu.toFixed(2),
      longest.toFixed(0),
      (1000 * summaryTime).toFixed(0),
    ];
  });
  printTable(
    'From picture to grains',
    ['picture', 'grains', 'clock s', 'processor s', 'longest without a report ms', 'summary with bands ms'],
    rows,
  );
  console.log(
    `Processor time grows as megapixels^${growth(megapixels, processor).toFixed(2)}; 12 megapixels are to take less than 10 s`,
  );
}
