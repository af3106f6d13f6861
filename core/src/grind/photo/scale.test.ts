import { describe, expect, it } from 'vitest';
import { cardSvg, checkLineLength, markPlaces } from './card.ts';
import { applyHomography, findHomography, jacobianOf, type Point } from './homography.ts';
import { measurePhoto } from './measure.ts';
import type { PhotoScale } from './options.ts';
import { makeCardScene } from './testing/card-scene.ts';
import { grainAt, plainPicture } from './testing/plain-pictures.ts';
import { plainCamera, renderLight, square } from './testing/render.ts';
import { dice, disc } from './testing/shape.ts';

const measured = (image: Parameters<typeof measurePhoto>[0], scale: PhotoScale) => {
  const result = measurePhoto(image, { scale });
  if (!result) throw new Error('nobody said stop');
  return result;
};
const codes = (m: ReturnType<typeof measured>): string[] => m.remarks.map((r) => r.code);

describe('a scale by hand', () => {
  const image = plainPicture(300, 100, [disc(60, 50, 20)]);
  it('is two points on a ruler', () => {
    const at = (length_mm: number, to_px: number): PhotoScale => ({
      by: 'ruler',
      from: { x_px: 10, y_px: 20 },
      to: { x_px: 10 + to_px, y_px: 20 },
      length_mm,
    });
    const m = measured(image, at(5, 250));
    expect(m.plane?.um_per_px).toBeCloseTo(20, 9);
    expect(m.grains[0]?.diameter_um).toBeCloseTo(800, -1);
    expect(codes(measured(image, at(5, 60)))).toContain('ruler_short');
    expect(codes(measured(image, at(5, 3)))).toContain('ruler_bad');
    expect(codes(measured(image, at(-5, 250)))).toContain('ruler_bad');
  });
  it.each([0, -1, Number.NaN, 1e5])('cannot be a pixel of %d µm; the grains stay', (um_per_px) => {
    const m = measured(image, { by: 'pixel', um_per_px });
    expect(codes(m)).toContain('pixel_bad');
    expect(m.plane).toBeNull();
    expect(m.grains.length).toBe(1);
  });
});

describe('a coin', () => {
  const grains = [disc(300, 60, 12), disc(330, 150, 9), disc(290, 210, 15)];
  const coin = { ...disc(120, 130, 80, 0.35), spots: 0.2 };
  const image = plainPicture(400, 260, [coin, ...grains], { noise: 0.01 });
  it.each([undefined, { x_px: 100, y_px: 120 }])('gives the scale and is no grain (near %o)', (near) => {
    const m = measured(image, near ? { by: 'coin', diameter_mm: 16, near } : { by: 'coin', diameter_mm: 16 });
    expect(Math.abs((m.plane?.um_per_px ?? 0) / 100 - 1)).toBeLessThan(0.004);
    expect(m.grains.length).toBe(3);
    expect(m.plane?.tilt_deg).toBeLessThan(6);
  });
  it('that looks oval tells of the lean', () => {
    const oval = plainPicture(400, 260, [{ ...coin, slender: 1.08, turn: 0.4 }, ...grains]);
    const m = measured(oval, { by: 'coin', diameter_mm: 16 });
    expect(codes(m)).toContain('coin_tilted');
    expect(m.plane?.tilt_deg).toBeCloseTo((Math.acos(1 / 1.08) * 180) / Math.PI, 0);
  });
  it('that is not there is asked for', () => {
    expect(codes(measured(image, { by: 'coin', diameter_mm: 16, near: { x_px: 200, y_px: 20 } }))).toContain(
      'coin_not_there',
    );
    const none = plainPicture(200, 200, [{ ...disc(100, 100, 30), slender: 2.2 }]);
    expect(codes(measured(none, { by: 'coin', diameter_mm: 16 }))).toContain('coin_not_found');
  });
});

describe('the plane of four or more points', () => {
  it('is recovered, with its derivative', () => {
    const h = Float64Array.of(1.1, 0.2, 30, -0.1, 0.9, 12, 3e-4, -2e-4);
    const from: Point[] = [
      [0, 0],
      [900, 30],
      [870, 640],
      [20, 700],
      [400, 300],
      [700, 100],
    ];
    const found = findHomography(
      from,
      from.map((p) => applyHomography(h, p)),
    );
    h.forEach((v, k) => {
      expect(found?.[k]).toBeCloseTo(v, 8);
    });
    const [a, b, c, d] = jacobianOf(h, [300, 200]);
    const at = (x: number, y: number) => applyHomography(h, [x, y]);
    const step = 1e-4;
    const [x, y] = at(300, 200);
    expect((at(300 + step, 200)[0] - x) / step).toBeCloseTo(a, 5);
    expect((at(300, 200 + step)[0] - x) / step).toBeCloseTo(b, 5);
    expect((at(300 + step, 200)[1] - y) / step).toBeCloseTo(c, 5);
    expect((at(300, 200 + step)[1] - y) / step).toBeCloseTo(d, 5);
  });
  it('is not found on a line', () => {
    const line: Point[] = [
      [0, 0],
      [1, 1],
      [2, 2],
      [3, 3],
    ];
    expect(findHomography(line, markPlaces({ pitch_mm: 1 }).slice(0, 4))).toBeNull();
  });
});

/** Squares of the marks in the drawn card [mm]: x, y of the upper left corner and side. */
function squaresIn(svg: string): [number, number, number][] {
  return [...svg.matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)v\3h-\3z/g)].map(([, x, y, side]) => [
    Number(x),
    Number(y),
    Number(side),
  ]);
}

describe('the printed card', () => {
  it('as drawn is found, and gives the scale and the field', () => {
    const design = { pitch_mm: 30 };
    const svg = cardSvg(design);
    const squares = squaresIn(svg);
    expect(squares.length).toBe(24);
    const scale = 12;
    const things = squares.map(([x, y, side], k) =>
      square((x + side / 2) * scale, (y + side / 2) * scale, side * scale, k % 3 === 1 ? 1 : 0.05),
    );
    const [width, height] = [...svg.matchAll(/(?:width|height)="([\d.]+)mm"/g)].map((m) =>
      Math.ceil(Number(m[1]) * scale),
    );
    const grain = disc((width! / 2) | 0, (width! / 2) | 0, 20);
    const data = renderLight([grain], plainCamera(width!, height!), dice(1), things);
    const m = measured({ width: width!, height: height!, data }, { by: 'card', pitch_mm: 30 });
    expect(codes(m)).toEqual([]);
    expect(m.plane?.um_per_px).toBeCloseTo(1000 / scale, 0);
    expect(m.grains.length).toBe(1);
    expect(Math.abs(m.grains[0]!.diameter_um / ((40 * 1000) / scale) - 1)).toBeLessThan(0.005);
  });
  it('says how long its check line must be, as it is drawn', () => {
    const svg = cardSvg({ pitch_mm: 60 });
    expect(svg).toContain('This line must measure 48 mm.');
    expect(svg).toContain(`h${checkLineLength({ pitch_mm: 60 })}M`);
    expect(cardSvg({ pitch_mm: 60 }, { check: '<{length}>', hint: '&' })).toContain('&lt;48&gt;');
  });
});

describe('the card in a tilted picture', () => {
  const order = {
    name: 'tilted',
    seed: 11,
    um_per_px: 20,
    count: 60,
    modes: [{ share: 1, median_px: 24, gsd: 1.25 }],
    touching: 0,
    covered: 0.1,
    cut: false,
    rough: 0.05,
    slender: 1.2,
    jpeg: null,
  };
  const { scene, design } = makeCardScene(order, { tilt_deg: 15, towards_deg: 30, turn_deg: 12 });
  const m = measured(scene.image, { by: 'card', pitch_mm: design.pitch_mm });
  it('is found, with its tilt', () => {
    expect(codes(m)).toEqual([]);
    expect(m.plane?.tilt_deg).toBeGreaterThan(13);
    expect(m.plane?.tilt_deg).toBeLessThan(17);
    expect(m.grains.length).toBe(scene.shapes.length);
  });
  it('takes the tilt out of every grain', () => {
    const sizes = m.grains.map((g) => g.diameter_um).sort((a, b) => a - b);
    const truth = scene.shapes.map((s) => 2 * s.radius * 20).sort((a, b) => a - b);
    const ratios = sizes.map((d, k) => d / truth[k]!);
    const mean = ratios.reduce((a, b) => a + b, 0) / ratios.length;
    expect(Math.abs(mean - 1)).toBeLessThan(0.004);
    for (const r of ratios) expect(Math.abs(r - 1)).toBeLessThan(0.02);
  });
  it('follows a print that came out smaller', () => {
    const line = checkLineLength(design);
    const small = measured(scene.image, {
      by: 'card',
      pitch_mm: design.pitch_mm,
      check_line_mm: 0.97 * line,
    });
    expect(small.grains[0]!.diameter_um / m.grains[0]!.diameter_um).toBeCloseTo(0.97, 9);
    const wrong = measured(scene.image, { by: 'card', pitch_mm: design.pitch_mm, check_line_mm: 3 * line });
    expect(codes(wrong)).toContain('check_line_bad');
  });
  it('is asked for when it is not there', () => {
    const image = plainPicture(200, 200, [disc(100, 100, 20)]);
    const none = measured(image, { by: 'card', pitch_mm: 60 });
    expect(codes(none)).toContain('card_not_found');
    expect(grainAt(none, 100, 100).area_px).toBeGreaterThan(1200);
  });
});
