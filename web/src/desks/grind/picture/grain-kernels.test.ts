import type { PhotoGrain } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { grainAt, isInside, largestGrains, outlinePath, sheetBox } from './grain-kernels.ts';
import { FIRST_SCALE, scaleOf } from './scale-form.tsx';

const SQUARE = Float32Array.of(0, 0, 10, 0, 10, 10, 0, 10);
const grain = (id: number, x: number, y: number): PhotoGrain =>
  ({
    id,
    x_px: x + 5,
    y_px: y + 5,
    box_px: [10, 10],
    outline_px: SQUARE.map((value, i) => value + (i % 2 === 0 ? x : y)),
  }) as unknown as PhotoGrain;

describe('touching grains', () => {
  it('finds the outline under the finger, else the nearest middle in reach', () => {
    const grains = [grain(1, 0, 0), grain(2, 100, 0)];
    expect(isInside(SQUARE, 5, 5)).toBe(true);
    expect(isInside(SQUARE, 11, 5)).toBe(false);
    expect(grainAt(grains, 103, 2, 0)?.id).toBe(2);
    expect(grainAt(grains, 20, 5, 30)?.id).toBe(1);
    expect(grainAt(grains, 55, 5, 20)).toBeNull();
  });

  it('draws a closed path', () => {
    expect(outlinePath(SQUARE)).toBe('M0.0 0.0L10.0 0.0L10.0 10.0L0.0 10.0Z');
  });
});

describe('grains that were kept', () => {
  const kept = [
    { diameter_um: 200, weight: 1, aspect: null, x_px: 100, y_px: 50, picture: 0, counted: true },
    { diameter_um: 400, weight: 1, aspect: null, x_px: 300, y_px: 60, picture: 0, counted: true },
    { diameter_um: 800, weight: 1, aspect: null, x_px: null, y_px: null, picture: 0, counted: false },
  ];

  it('lie in a box around all that have a place', () => {
    expect(sheetBox(kept, 10)).toEqual({ left: 90, top: 40, width: 230, height: 40 });
    expect(sheetBox([kept[2]!], 10)).toBeNull();
  });

  it('are listed by the volume they carry, against what is counted', () => {
    const [first, second] = largestGrains(kept, 2);
    // 800³ over 200³ + 400³, and 400³ over the same.
    expect(first).toEqual({ index: 2, share: 512 / 72 });
    expect(second).toEqual({ index: 1, share: 64 / 72 });
  });
});

describe('a scale being entered', () => {
  it('is none until it is whole', () => {
    expect(scaleOf({ ...FIRST_SCALE, by: 'pixel' })).toBeNull();
    expect(scaleOf({ ...FIRST_SCALE, by: 'pixel', um_per_px: '2o' })).toBeNull();
    expect(scaleOf({ ...FIRST_SCALE, by: 'pixel', um_per_px: 20 })).toEqual({ by: 'pixel', um_per_px: 20 });
    expect(scaleOf({ ...FIRST_SCALE, by: 'ruler', from: { x_px: 1, y_px: 2 } })).toBeNull();
    expect(scaleOf({ ...FIRST_SCALE, by: 'coin', diameter_mm: 23 })).toEqual({ by: 'coin', diameter_mm: 23 });
    expect(scaleOf(FIRST_SCALE)).toEqual({ by: 'card', pitch_mm: 60 });
  });
});
