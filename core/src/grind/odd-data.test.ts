/** Data that pass the schema and still make little sense: no throw, no figure that is not a number. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type SizingData, sizingData } from '../documents/index.ts';
import { analyseSizes } from './analyse.ts';

/** Names of figures that are neither finite nor null. */
function unfinished(data: SizingData): string[] {
  const found: string[] = [];
  JSON.stringify(analyseSizes(data, { draws: 11 }), (key, value: unknown) => {
    if (typeof value === 'number' && !Number.isFinite(value)) found.push(key);
    return ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : value;
  });
  return found;
}

describe('odd data', () => {
  it.each([
    ['one sieve', { by: 'sieves', sieves: [{ aperture_um: 500, weighed_g: 10 }] }],
    [
      'all in one class',
      {
        by: 'sieves',
        sieves: [500, 250, 100].map((aperture_um, i) => ({ aperture_um, weighed_g: i === 1 ? 5 : 0 })),
      },
    ],
    ['all in the pan', { by: 'sieves', sieves: [{ aperture_um: 500, weighed_g: 0 }], pan: { weighed_g: 7 } }],
    [
      'a step',
      {
        by: 'table',
        of: 'undersize',
        rows: [
          { size_um: 10, value_pct: 0 },
          { size_um: 20, value_pct: 100 },
        ],
      },
    ],
    [
      'two sizes far apart, counted',
      {
        by: 'table',
        of: 'class',
        weighting: 'number',
        rows: [
          { size_um: 0.02, value_pct: 50 },
          { size_um: 19_000, value_pct: 50 },
        ],
      },
    ],
    ['two like grains', { by: 'photo', grains: [{ diameter_um: 100 }, { diameter_um: 100 }] }],
    ['one grain', { by: 'photo', grains: [{ diameter_um: 100 }] }],
    ['dust and a bean', { by: 'photo', grains: [{ diameter_um: 1 }, { diameter_um: 20_000 }] }],
    ['grains that weigh nothing', { by: 'photo', grains: [{ diameter_um: 100, weight: 0 }] }],
  ])('%s', (_, data) => {
    expect(unfinished(sizingData.parse(data))).toEqual([]);
  });
  it('any sieving', () => {
    const mass = fc.oneof(fc.constant(0), fc.double({ min: 0, max: 100, noNaN: true }));
    const sieving = fc.record({
      load_g: fc.option(fc.double({ min: 0.1, max: 200, noNaN: true })),
      pan: fc.option(fc.record({ weighed_g: mass })),
      masses: fc.array(fc.tuple(fc.double({ min: 0.5, max: 0.97, noNaN: true }), mass), {
        minLength: 1,
        maxLength: 7,
      }),
    });
    fc.assert(
      fc.property(sieving, ({ load_g, pan, masses }) => {
        let aperture_um = 2_000;
        const sieves = masses.map(([ratio, weighed_g]) => {
          aperture_um *= ratio;
          return { aperture_um, weighed_g };
        });
        expect(unfinished(sizingData.parse({ by: 'sieves', load_g, pan, sieves }))).toEqual([]);
      }),
      { seed: 20261125, numRuns: 20 },
    );
  });
});
