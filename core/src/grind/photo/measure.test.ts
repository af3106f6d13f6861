import { describe, expect, it } from 'vitest';
import { measurePhoto, rescalePhoto } from './measure.ts';
import type { PhotoOptions } from './options.ts';
import { summarisePhoto } from './summarise.ts';
import { discRows, grainAt, plainPicture } from './testing/plain-pictures.ts';
import { makeScene, truthOf } from './testing/scenes.ts';
import { dice, disc, randomShape, type Shape } from './testing/shape.ts';

const TEN_UM: PhotoOptions = { scale: { by: 'pixel', um_per_px: 10 } };

function measured(image: Parameters<typeof measurePhoto>[0], options: PhotoOptions = TEN_UM) {
  const result = measurePhoto(image, options);
  if (!result) throw new Error('nobody said stop');
  return result;
}
const codes = (m: ReturnType<typeof measured>): string[] => m.remarks.map((r) => r.code);

describe('single discs of known area', () => {
  const radii = Array.from({ length: 16 }, (_, k) => 4 + 1.43 * k);
  const shapes = discRows(radii, 66, 4);
  it.each([0, 1, 2])(
    'come out within 0.2 px of their diameter each and 0.05 px on average, at a blur of %d px',
    (blur) => {
      const m = measured(plainPicture(264, 264, shapes, { blur }));
      const errors: number[] = [];
      for (const { x, y, radius } of shapes.filter((s) => s.radius > 5 + 2 * blur)) {
        const grain = grainAt(m, x, y);
        expect(Math.hypot(grain.x_px - x, grain.y_px - y)).toBeLessThan(0.2);
        errors.push(grain.diameter_um / 10 - 2 * radius);
        expect(Math.abs(errors.at(-1)!)).toBeLessThan(0.2);
        expect(grain.solidity).toBeGreaterThan(0.93);
        expect(grain.parted).toBe(1);
      }
      expect(Math.abs(errors.reduce((a, b) => a + b, 0) / errors.length)).toBeLessThan(0.05);
      expect(m.grains.length).toBe(shapes.length);
      if (blur > 0) expect(Math.abs(m.blur_px - blur)).toBeLessThan(0.15 + 0.1 * blur);
    },
  );
});

describe('irregular grains', () => {
  it('keep their area under uneven light, noise and spots', () => {
    const random = dice(5);
    const shapes = Array.from({ length: 20 }, (_, k): Shape => {
      const shape = randomShape(8 + k * 0.7, 0.07, 1.3, random);
      return { ...shape, x: 90 * ((k % 5) + 0.5), y: 90 * (Math.floor(k / 5) + 0.5) };
    });
    const m = measured(
      plainPicture(450, 360, shapes, { slope: 0.5, vignette: 0.3, noise: 0.02, blur: 1, towards: 1 }),
    );
    for (const { x, y, radius } of shapes)
      expect(Math.abs(grainAt(m, x, y).diameter_um / (20 * radius) - 1)).toBeLessThan(0.03);
    expect(codes(m)).toContain('uneven_light');
  });
  it('have the axes and the direction of an ellipse', () => {
    const ellipse: Shape = { ...disc(150, 150, 40), slender: 2, turn: 0.5 };
    const grain = grainAt(measured(plainPicture(300, 300, [ellipse])), 150, 150);
    expect(grain.length_um / (800 * Math.SQRT2)).toBeCloseTo(1, 2);
    expect(grain.width_um / (800 / Math.SQRT2)).toBeCloseTo(1, 2);
    expect((grain.angle_deg * Math.PI) / 180).toBeCloseTo(0.5, 2);
  });
});

describe('touching grains', () => {
  const pairs: [string, number, number, number][] = [
    ['equal, just touching', 20, 20, 0],
    ['equal, overlapping by a tenth of the diameter', 20, 20, 4],
    ['one half the other', 24, 12, 2],
    ['one a third of the other', 30, 10, 1],
  ];
  it.each(pairs)('are parted: %s', (_, a, b, overlap) => {
    const image = plainPicture(200, 160, [disc(70, 80, a), disc(70 + a + b - overlap, 80, b)]);
    const m = measured(image);
    expect(m.grains.map((g) => g.parted)).toEqual([2, 2]);
    expect(Math.abs(grainAt(m, 70, 80).diameter_um / (20 * a) - 1)).toBeLessThan(0.03);
    expect(Math.abs(grainAt(m, 70 + a + b, 80).diameter_um / (20 * b) - 1)).toBeLessThan(0.06);
  });
  it('in a ring leave the sheet inside open', () => {
    const ring = Array.from({ length: 8 }, (_, k) =>
      disc(150 + 52 * Math.cos((k * Math.PI) / 4), 150 + 52 * Math.sin((k * Math.PI) / 4), 20.5),
    );
    const m = measured(plainPicture(300, 300, ring));
    expect(m.grains.length).toBe(8);
    for (const g of m.grains) expect(Math.abs(g.diameter_um / 410 - 1)).toBeLessThan(0.03);
  });
  it('are left together when no parting is asked for', () => {
    const image = plainPicture(200, 160, [disc(70, 80, 20), disc(108, 80, 20)]);
    expect(measured(image, { ...TEN_UM, split: null }).grains.length).toBe(1);
  });
});

describe('what a person gives', () => {
  const shapes = discRows([10, 12, 14, 16, 18, 20, 22, 24], 90, 4);
  const image = plainPicture(360, 180, shapes);
  it('is a picture of the whole field, its border grains left out', () => {
    const m = measured(plainPicture(300, 200, [disc(150, 100, 20), disc(3, 100, 15), disc(299, 10, 12)]));
    expect(m.grains.map((g) => g.left_out)).toEqual(['at border', 'at border', null].sort());
  });
  it('may be a part of it', () => {
    const m = measured(image, { ...TEN_UM, region: { left_px: 0, top_px: 0, right_px: 180, bottom_px: 90 } });
    expect(m.grains.filter((g) => g.left_out === null).length).toBe(2);
  });
  it('may be places to leave out', () => {
    const m = measured(image, {
      ...TEN_UM,
      ignore: [{ x_px: shapes[0]!.x, y_px: shapes[0]!.y, radius_px: 20 }],
    });
    expect(m.grains.length).toBe(7);
  });
  it('may be light grains on a dark sheet', () => {
    const dark = { ...image, data: image.data.map((v) => 0.9 - v) };
    const m = measured(dark, { ...TEN_UM, grains: 'light' });
    for (const { x, y, radius } of shapes)
      expect(Math.abs(grainAt(m, x, y).diameter_um / (20 * radius) - 1)).toBeLessThan(0.02);
  });
  it('leaves hairs and huge things out, and says so', () => {
    const hair: Shape = { ...disc(180, 150, 12), slender: 9, turn: 0.1 };
    const m = measured(plainPicture(360, 180, [...shapes.slice(0, 4), hair]), { ...TEN_UM, largest_um: 300 });
    expect(grainAt(m, 180, 150).left_out).toBe('thread');
    expect(m.grains.filter((g) => g.left_out === 'too large').length).toBe(1);
    expect(codes(m)).toEqual(expect.arrayContaining(['threads', 'too_large']));
  });
  it('without a scale keeps the grains, and takes a scale later', () => {
    const without = measured(image, { scale: null });
    expect(codes(without)).toContain('no_scale');
    expect(summarisePhoto(without)).toBeNull();
    expect(without.grains.every((g) => Number.isNaN(g.diameter_um))).toBe(true);
    const later = rescalePhoto(without, { by: 'pixel', um_per_px: 10 });
    expect(later).toEqual(measured(image));
  });
});

describe('pictures that cannot be measured well', () => {
  const random = dice(3);
  const noise = Float32Array.from({ length: 200 * 200 }, () => 0.5 + 0.1 * random.normal());
  const bad: [string, Parameters<typeof measurePhoto>[0], string][] = [
    ['an empty sheet', plainPicture(200, 200, []), 'no_grains'],
    ['noise', { width: 200, height: 200, data: noise }, 'low_contrast'],
    ['blackness', { width: 100, height: 100, data: new Float32Array(10_000) }, 'no_grains'],
    ['too few pixels', { width: 10, height: 10, data: new Float32Array(100) }, 'image_small'],
    ['bytes that do not fit', { width: 100, height: 100, data: new Uint8ClampedArray(7) }, 'image_bad'],
    [
      'not a number',
      { width: 100, height: 100, data: new Float32Array(10_000).fill(Number.NaN) },
      'no_grains',
    ],
  ];
  it.each(bad)('%s get a sentence that says what to do', (_, image, code) => {
    const m = measured(image);
    expect(codes(m)).toContain(code);
    expect(m.remarks.find((r) => r.code === code)?.sentence).not.toMatch(/[{}]/);
  });
  it('a blurred one is called blurred, a sharp one is not', () => {
    const shapes = discRows(
      Array.from({ length: 20 }, () => 9),
      50,
      5,
    );
    expect(codes(measured(plainPicture(250, 200, shapes, { blur: 3 })))).toContain('blurred');
    expect(codes(measured(plainPicture(250, 200, shapes, { blur: 0.8 })))).toEqual([]);
  });
  it('shadows, crowding and burnt-out sheets are named', () => {
    const shapes = discRows(
      Array.from({ length: 20 }, () => 18),
      50,
      5,
    );
    const shaded = plainPicture(250, 200, shapes, { shadow: 0.4, thrown: 0.3, soft: 3 });
    expect(codes(measured(shaded))).toEqual(expect.arrayContaining(['shadows', 'crowded']));
    const burnt = { ...shaded, data: shaded.data.map((v) => Math.min(1, 1.4 * v)) };
    expect(codes(measured(burnt))).toContain('overexposed');
  });
});

describe('progress', () => {
  const image = plainPicture(360, 180, discRows([10, 12, 14, 16], 90, 4));
  it('rises to 1', () => {
    const seen: number[] = [];
    measurePhoto(image, TEN_UM, (done) => seen.push(done) > 0);
    expect(seen.at(-1)).toBe(1);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.length).toBeGreaterThan(8);
  });
  it.each([1, 4, 8])('stops at report %i when told, with no result', (stop) => {
    let reports = 0;
    expect(measurePhoto(image, TEN_UM, () => ++reports < stop)).toBeNull();
    expect(reports).toBe(stop);
  });
});

describe('drawn photographs through JPEG', () => {
  it('give the sizes of their grains', () => {
    const scene = makeScene({
      name: 'small',
      seed: 2,
      um_per_px: 15,
      count: 80,
      modes: [{ share: 1, median_px: 20, gsd: 1.35 }],
      touching: 0.1,
      covered: 0.12,
      cut: true,
      rough: 0.06,
      slender: 1.3,
      jpeg: 85,
      camera: { slope: 0.25, vignette: 0.2, noise: 0.02, shadow: 0.15, thrown: 0.15, soft: 3, blur: 0.9 },
    });
    const summary = summarisePhoto(measured(scene.image, { scale: { by: 'pixel', um_per_px: 15 } }));
    const [d10, d50, d90] = truthOf(scene);
    expect(Math.abs(summary!.d10_um.value / d10 - 1)).toBeLessThan(0.1);
    expect(Math.abs(summary!.d50_um.value / d50 - 1)).toBeLessThan(0.05);
    expect(Math.abs(summary!.d90_um.value / d90 - 1)).toBeLessThan(0.1);
  });
});
