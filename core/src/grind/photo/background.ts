import { eachRow, type GreyImage, type Tick } from './image.ts';
import { fitRows } from './linear-solve.ts';

/** Light of the bare sheet on a coarse grid; cell (i, j) is centred on pixel ((i + ½)·step, (j + ½)·step). */
export interface Background {
  columns: number;
  rows: number;
  /** [px] */
  step: number;
  /** [rows × columns] */
  level: Float32Array;
}

/** Blocks along the longer side, and the least size of a block [px]. */
const BLOCKS = 48;
const LEAST_BLOCK = 16;
/** Pixels looked at in a block. */
const SAMPLES = 196;
/** The sheet shows in at least this share of most blocks. */
const BRIGHT_SHARE = 0.15;
/** Blocks darker than this share of the surface are full of grains and do not count. */
const DARK_BLOCK = 0.9;

/**
 * Light of the bare sheet, first guess: the bright end of each block, and a cubic surface through those blocks that are not
 * full of grains.
 */
export function roughBackground(image: GreyImage): Background {
  const grid = gridOver(image);
  const bright = blockLevels(image, grid, (sorted) =>
    sorted.length > 0 ? sorted[Math.floor((1 - BRIGHT_SHARE) * (sorted.length - 1))]! : Number.NaN,
  );
  const surface = cubicThrough(grid, bright);
  return { ...grid, level: surface };
}

/**
 * Light of the bare sheet, from the pixels that are brighter than `threshold` of the rough guess: their median in each
 * block, cleaned by a median over neighbours. Blocks without bare sheet take the level of the rough guess.
 */
export function fineBackground(image: GreyImage, rough: Background, threshold: number): Background {
  const level = blockLevels(image, rough, (sorted, total, block) => {
    const least = threshold * rough.level[block]!;
    const first = sorted.findIndex((v) => v > least);
    if (first < 0 || sorted.length - first < BRIGHT_SHARE * total) return Number.NaN;
    return sorted[Math.floor((first + sorted.length) / 2)]!;
  });
  const { columns, rows } = rough;
  const known: number[] = [];
  for (let k = 0; k < level.length; k++)
    if (Number.isFinite(level[k]!)) known.push(level[k]! / rough.level[k]!);
  known.sort((a, b) => a - b);
  const usual = known.length > 0 ? known[known.length >> 1]! : 1;
  const ratio = Float32Array.from(level, (v, k) => (Number.isFinite(v) ? v / rough.level[k]! : usual));
  const cleaned = medianOfNine(ratio, columns, rows);
  return { ...rough, level: Float32Array.from(cleaned, (r, k) => r * rough.level[k]!) };
}

/** Divides a picture by its background, in place: the bare sheet becomes 1 everywhere. */
export function flatten({ width, height, data }: GreyImage, background: Background, tick: Tick): void {
  const { columns, rows, step, level } = background;
  const line = new Float32Array(columns);
  eachRow(height, tick, (y) => {
    const v = Math.min(rows - 1, Math.max(0, (y + 0.5) / step - 0.5));
    const j = Math.min(Math.max(rows - 2, 0), Math.floor(v));
    const down = rows > 1 ? v - j : 0;
    for (let i = 0; i < columns; i++) {
      const top = level[j * columns + i]!;
      const bottom = level[Math.min(rows - 1, j + 1) * columns + i]!;
      line[i] = top + down * (bottom - top);
    }
    for (let x = 0; x < width; x++) {
      const u = Math.min(columns - 1, Math.max(0, (x + 0.5) / step - 0.5));
      const i = Math.min(Math.max(columns - 2, 0), Math.floor(u));
      const left = line[i]!;
      const light = left + (u - i) * (line[Math.min(columns - 1, i + 1)]! - left);
      data[y * width + x]! /= Math.max(1e-6, light);
    }
  });
}

/** Darkest over brightest light of the bare sheet. */
export function evenness({ level }: Background): number {
  const sorted = Float32Array.from(level).sort();
  return sorted[0]! / sorted[sorted.length - 1]!;
}

function gridOver({ width, height }: GreyImage): Omit<Background, 'level'> {
  const step = Math.max(LEAST_BLOCK, Math.ceil(Math.max(width, height) / BLOCKS));
  return { step, columns: Math.ceil(width / step), rows: Math.ceil(height / step) };
}

/** One number a block, from an even sample of its pixels, sorted. Pixels that are not a number are left out. */
function blockLevels(
  { width, height, data }: GreyImage,
  { columns, rows, step }: Omit<Background, 'level'>,
  pick: (sorted: Float32Array, total: number, block: number) => number,
): Float32Array {
  const stride = Math.max(1, Math.floor(step / Math.sqrt(SAMPLES)));
  const sample = new Float32Array((Math.ceil(step / stride) + 1) ** 2);
  const out = new Float32Array(columns * rows);
  for (let j = 0; j < rows; j++)
    for (let i = 0; i < columns; i++) {
      let count = 0;
      for (let y = j * step; y < Math.min(height, (j + 1) * step); y += stride)
        for (let x = i * step; x < Math.min(width, (i + 1) * step); x += stride)
          sample[count++] = data[y * width + x]!;
      const block = j * columns + i;
      out[block] = pick(sample.slice(0, count).sort(), count, block);
    }
  return out;
}

/** Terms 1, x … y³ of a cubic surface at a block, x and y from −1 to 1. */
function cubicTerms(i: number, j: number, columns: number, rows: number): number[] {
  const x = columns > 1 ? (2 * i) / (columns - 1) - 1 : 0;
  const y = rows > 1 ? (2 * j) / (rows - 1) - 1 : 0;
  return [1, x, y, x * x, x * y, y * y, x * x * x, x * x * y, x * y * y, y * y * y];
}

/**
 * Cubic surface through blocks; blocks that lie far below are left out and the fit repeated. Small pictures, whose few
 * blocks do not fix a cubic, get a constant.
 */
function cubicThrough({ columns, rows }: Omit<Background, 'level'>, bright: Float32Array): Float32Array {
  const blocks = Array.from(bright, (b, k) => ({
    a: cubicTerms(k % columns, Math.floor(k / columns), columns, rows),
    b,
    weight: 1,
  }));
  const sorted = Float32Array.from(bright).sort();
  let surface = new Float32Array(bright.length).fill(sorted[Math.floor(0.75 * sorted.length)]!);
  if (columns < 4 || rows < 4) return surface;
  for (let round = 0; round < 8; round++) {
    // A tiny weight of every block keeps the surface finite where a corner is full of grains.
    for (const [k, block] of blocks.entries()) {
      const low = round < 3 ? DARK_BLOCK - 0.2 + 0.1 * round : DARK_BLOCK;
      block.weight = block.b > low * surface[k]! ? 1 : 1e-4;
    }
    const x = fitRows(10, blocks);
    if (!x) break;
    const floor = 0.2 * sorted[sorted.length - 1]!;
    surface = Float32Array.from(blocks, ({ a }) =>
      Math.max(
        floor,
        a.reduce((sum, term, i) => sum + term * x[i]!, 0),
      ),
    );
  }
  return surface;
}

function medianOfNine(values: Float32Array, columns: number, rows: number): Float32Array {
  const nine: number[] = [];
  return values.map((_, k) => {
    nine.length = 0;
    const i = k % columns;
    const j = (k - i) / columns;
    for (let y = Math.max(0, j - 1); y <= Math.min(rows - 1, j + 1); y++)
      for (let x = Math.max(0, i - 1); x <= Math.min(columns - 1, i + 1); x++)
        nine.push(values[y * columns + x]!);
    nine.sort((a, b) => a - b);
    return nine[nine.length >> 1]!;
  });
}
