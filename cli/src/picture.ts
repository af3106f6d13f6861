import { readFileSync } from 'node:fs';
import type { PhotoImage } from '@pourline/core';
import { EXIT, Stop } from './exit.ts';

/** Whether a file is a picture that can be read, by its name. */
export const isPicture = (path: string): boolean => /\.(png|jpe?g)$/i.test(path);

/** Most memory that a decoded photograph may take [MB]: 100 megapixels. */
const MOST_MB = 512;

/** Reads a PNG or JPEG, or stops with a sentence. */
export async function readPicture(path: string): Promise<PhotoImage> {
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch {
    throw new Stop(EXIT.notFound, `Cannot read ${path}: there is no such file, or it is not allowed.`);
  }
  try {
    if (bytes.subarray(1, 4).toString('latin1') === 'PNG') {
      const { PNG } = await import('pngjs');
      const { width, height, data } = PNG.sync.read(bytes);
      return { width, height, data };
    }
    const jpeg = await import('jpeg-js');
    const { width, height, data } = jpeg.default.decode(bytes, {
      useTArray: true,
      maxMemoryUsageInMB: MOST_MB,
      maxResolutionInMP: 100,
    });
    return { width, height, data };
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    throw new Stop(EXIT.problems, `${path} is not a picture that can be read (PNG or JPEG): ${detail}.`);
  }
}
