import { readFileSync } from 'node:fs';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import type { PhotoImage } from './image.ts';
import { measurePhoto } from './measure.ts';
import type { PhotoOptions } from './options.ts';

/** reference/granular-pictures: coins of the Brooklyn Museum Collection, gravel of CC0Textures. */
function picture(name: string): PhotoImage {
  const url = new URL(`../../../../reference/granular-pictures/${name}.png`, import.meta.url);
  const { width, height, data } = PNG.sync.read(readFileSync(url));
  return { width, height, data: new Uint8ClampedArray(data) };
}

function measured(name: string, options: Partial<PhotoOptions>) {
  const m = measurePhoto(picture(name), { scale: { by: 'pixel', um_per_px: 1 }, ...options });
  if (!m) throw new Error('nobody said stop');
  return { m, codes: m.remarks.map((r) => r.code) };
}

/** Middles of the 24 coins, read off the picture by eye to a few pixels. */
const COINS: readonly (readonly [x: number, y: number])[] = [
  [45, 55],
  [101, 56],
  [155, 51],
  [216, 51],
  [276, 53],
  [335, 44],
  [45, 125],
  [103, 126],
  [154, 128],
  [206, 125],
  [271, 119],
  [337, 125],
  [44, 197],
  [102, 196],
  [155, 198],
  [213, 193],
  [274, 194],
  [347, 187],
  [46, 260],
  [114, 266],
  [173, 262],
  [244, 264],
  [301, 264],
  [358, 267],
];

describe('twenty-four coins on a dark ground', () => {
  const { m, codes } = measured('coins', { grains: 'light' });
  const whole = COINS.filter(([x, y]) =>
    m.grains.some((g) => g.solidity > 0.9 && g.diameter_um > 30 && Math.hypot(g.x_px - x, g.y_px - y) < 8),
  );
  it('are found whole where their relief is lighter than the ground: 15 at least', () => {
    expect(whole.length).toBeGreaterThanOrEqual(15);
  });
  it('are doubted, because some are as dark as the ground', () => {
    expect(codes).toContain('low_contrast');
  });
});

describe('a bed of gravel without any sheet', () => {
  it.each(['dark', 'light'] as const)('is refused as %s grains', (grains) => {
    const { m, codes } = measured('gravel', { grains });
    expect(codes).toEqual(expect.arrayContaining(['low_contrast', 'crowded']));
    expect(m.remarks.find((r) => r.code === 'low_contrast')?.weight).toBe('stop');
  });
});
