import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mix, parseHex, ramp } from './colour.ts';
import { spreadLabels } from './labels.ts';

describe('labels at line ends', () => {
  it('stay at their lines when those lie apart', () => {
    expect(spreadLabels([80, 20, 50], 12, 0, 100)).toEqual([80, 20, 50]);
  });

  it('never cover each other, keep their order and stay in the lane when they fit', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -20, max: 140, noNaN: true }), { minLength: 1, maxLength: 7 }),
        (heights) => {
          const placed = spreadLabels(heights, 12, 0, 100);
          const order = heights.map((_, i) => i).sort((a, b) => heights[a]! - heights[b]!);
          for (let k = 1; k < order.length; k++)
            expect(placed[order[k]!]! - placed[order[k - 1]!]!).toBeGreaterThanOrEqual(12 - 1e-9);
          expect(Math.min(...placed)).toBeGreaterThanOrEqual(-1e-9);
          expect(Math.max(...placed)).toBeLessThanOrEqual(100 + 1e-9);
        },
      ),
    );
  });
});

describe('colours', () => {
  it('are read from hex and come back from the colour space unchanged', () => {
    expect(parseHex('#1d63a8')).toEqual([29, 99, 168]);
    expect(parseHex(' #fff ')).toEqual([255, 255, 255]);
    expect(parseHex('teal')).toEqual([128, 128, 128]);
    fc.assert(
      fc.property(fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255)), (rgb) => {
        expect(mix(rgb, [0, 0, 0], 0)).toEqual(rgb);
      }),
    );
  });

  it('have the middle grey of equal steps between black and white', () => {
    // OKLab lightness 0.5 is linear 0.125, which is 99 in sRGB.
    expect(mix([0, 0, 0], [255, 255, 255], 0.5)).toEqual([99, 99, 99]);
  });

  it('make a ramp that runs through its stops', () => {
    const bytes = ramp(
      [
        [0, [0, 0, 0]],
        [0.5, [255, 0, 0]],
        [1, [255, 255, 255]],
      ],
      5,
    );
    expect([...bytes.slice(0, 3), ...bytes.slice(6, 9), ...bytes.slice(12)]).toEqual([
      0, 0, 0, 255, 0, 0, 255, 255, 255,
    ]);
  });
});
