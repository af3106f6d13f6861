import { describe, expect, it } from 'vitest';
import { checkKind, type SizingData, sizingData } from '../documents/index.ts';
import { put } from '../documents/testing/put.ts';
import { sampleBody } from '../documents/testing/samples.ts';
import { analyseSizes } from './analyse.ts';
import { readSizes } from './size-data.ts';
import { sieves } from './testing/sievings.ts';

const said = (data: SizingData) => readSizes(data).remarks.map((r) => `${r.level}: ${r.sentence}`);
const codes = (data: SizingData) => readSizes(data).remarks.map((r) => r.code);
const rows: readonly (readonly [number, number])[] = [
  [1180, 0.4],
  [850, 7.5],
  [600, 25.7],
  [425, 30.5],
  [300, 17.5],
  [212, 9.9],
  [150, 4.6],
];
const pan = { weighed_g: 3.9 };

describe('a sieving', () => {
  it('is shares of what was found, from the pan upwards', () => {
    const { data, remarks } = readSizes(sieves(rows, { load_g: 100.1, pan }));
    expect(remarks).toEqual([]);
    expect(data!.binned.limits[0]).toBeCloseTo(150e-6, 12);
    expect(data!.binned.share[0]).toBeCloseTo(0.039, 12);
    expect(data!.binned.share.reduce((sum, x) => sum + x, 0)).toBeCloseTo(1, 12);
  });
  it('takes tares off', () => {
    const weighed = sizingData.parse({
      by: 'sieves',
      sieves: rows.map(([aperture_um, g]) => ({ aperture_um, weighed_g: 300 + g, tare_g: 300 })),
      pan: { weighed_g: 253.9, tare_g: 250 },
    });
    expect(readSizes(weighed).data!.binned.share[0]).toBeCloseTo(0.039, 12);
  });
  it('that holds more than was put on says by how much, and is still computed', () => {
    const data = sieves(rows, { load_g: 98, pan });
    expect(said(data)).toEqual([
      'problem: Sieves and pan hold 100 g together, 2 g more than the 98 g that were put on. A sieve held grains from before, or a tare is wrong: brush out, weigh the empty sieves and repeat. Shares are taken of the sum.',
    ]);
    expect(analyseSizes(data, { draws: 0 }).analysis).not.toBeNull();
  });
  it('may hold a little more than the load, as rounding allows', () => {
    expect(codes(sieves(rows, { load_g: 99.5, pan }))).toEqual([]);
  });
  it('that lost coffee says how much: a caution, and a problem when it is much', () => {
    expect(said(sieves(rows, { load_g: 102, pan }))).toEqual([
      'caution: 2 g of 102 g (2 %) is missing. It is dust in the air, in the mesh or on the hands, mostly fines: brush the sieves from below and repeat when fines matter.',
    ]);
    expect(said(sieves(rows, { load_g: 110, pan }))[0]).toMatch(/^problem: 10 g of 110 g \(9\.1 %\)/);
  });
  it('without a pan takes the rest of the load for it, and says so', () => {
    const data = sieves(rows, { load_g: 100 });
    expect(readSizes(data).data!.binned.share[0]).toBeCloseTo(0.039, 12);
    expect(codes(data)).toEqual(['pan_from_load']);
  });
  it('without pan and load says what is not known', () => {
    expect(said(sieves(rows))).toEqual([
      'caution: Neither pan nor load was weighed, so what passed 150 µm is unknown: all shares are of what stayed on the sieves.',
    ]);
  });
  it('of nothing says so and gives nothing', () => {
    const empty = sieves([
      [500, 0],
      [250, 0],
    ]);
    expect(readSizes({ ...empty, pan: { weighed_g: 0, tare_g: 0 } }).data).toBeNull();
    expect(codes({ ...empty, pan: { weighed_g: 0, tare_g: 0 } })).toEqual(['nothing_weighed']);
  });
  it('tells which sieve to add: finer, coarser, between', () => {
    const three: readonly (readonly [number, number])[] = [
      [850, 10],
      [425, 60],
      [300, 10],
    ];
    const all = said(sieves(three, { load_g: 100, pan: { weighed_g: 20 } })).join('\n');
    expect(all).toContain('Add a finer sieve, such as 212 µm.');
    expect(all).toContain('Add a coarser one, such as 1180 µm.');
    expect(all).toContain(
      '60 % lies between 425 and 850 µm. One more sieve between them would show how; 600 µm is one.',
    );
  });
  it('knows openings of older tables and those of no standard', () => {
    const odd: readonly (readonly [number, number])[] = [
      [841, 30],
      [420, 40],
      [333, 20],
      [150, 8],
      [106, 1],
    ];
    expect(codes(sieves(odd, { load_g: 100, pan: { weighed_g: 1 } }))).toEqual(
      expect.arrayContaining(['aperture_superseded', 'aperture_not_standard']),
    );
  });
});

describe('a sizing as a document', () => {
  const problems = (...changes: readonly (readonly [(string | number)[], unknown])[]) => {
    const body = sampleBody('sizing');
    for (const [place, value] of changes) put(body, place, value);
    const checked = checkKind('sizing', body);
    return checked.ok ? [] : checked.problems.map((p) => p.sentence);
  };
  it('refuses sieves in the wrong order and says which', () => {
    expect(problems([['data', 'sieves', 1, 'aperture_um'], 1400])).toEqual([
      'Data: sieves, row 2: aperture is 1400 µm, and the sieve above it 1000 µm; sieves are listed from the coarsest down, each finer than the one above. Put the rows in that order, or correct the aperture.',
    ]);
  });
  it('refuses a negative mass and one below its tare', () => {
    expect(problems([['data', 'sieves', 0, 'weighed_g'], -1])).toEqual([
      'Data: sieves, row 1: weighed is -1 g; it must be at least 0 g.',
    ]);
    expect(problems([['data', 'pan', 'weighed_g'], 140])).toEqual([
      'Data: pan: weighed is 140 g, less than its empty sieve or pan (148.5 g). Weigh both again, or set the tare to 0 when the scale had already taken it off.',
    ]);
  });
  it('refuses a way of measuring that there is not', () => {
    expect(problems([['data', 'by'], 'feel'])).toEqual([
      'Data: by is "feel"; it must be one of: sieves, table, photo.',
    ]);
  });
  it('keeps tables with their text and photographs with every grain, erased ones too', () => {
    const body = sampleBody('sizing');
    const table = {
      by: 'table',
      of: 'class',
      rows: [
        { size_um: 100, value_pct: 20 },
        { size_um: 1000, value_pct: 80 },
      ],
      file: { name: 'a.csv', text: 'size;share\n100;20\n1000;80\n' },
    };
    const photo = {
      by: 'photo',
      pictures: [{ scale: { pixel_um: 12, from: 'coin', doubt_pct: 0.8 } }],
      grains: [{ diameter_um: 400 }, { diameter_um: 700, weight: 1.1, aspect: 0.7, counted: false }],
    };
    for (const data of [table, photo]) {
      const checked = checkKind('sizing', { ...body, data });
      expect(checked).toMatchObject({ ok: true, value: { data } });
    }
  });
});

describe('a table', () => {
  const table = (more: object) => sizingData.parse({ by: 'table', of: 'class', ...more });
  const of = (values: readonly number[]) =>
    values.map((value_pct, i) => ({ size_um: 100 * 2 ** i, value_pct }));
  it('may be short of 100, and says so when it is by more than a rounding', () => {
    expect(codes(table({ rows: of([20, 30, 49.7]) }))).not.toContain('table_sum');
    expect(said(table({ sizes: 'middle', rows: of([20, 30, 40]) }))).toEqual([
      'caution: The shares add up to 90 instead of 100. They are taken as relative; check that no row is missing.',
    ]);
  });
  it('of fractions is read as such', () => {
    expect(codes(table({ sizes: 'middle', rows: of([0.2, 0.3, 0.5]) }))).toEqual([]);
  });
  it('that falls where it should rise names the row', () => {
    const data = table({ of: 'undersize', rows: of([10, 40, 35, 100]) });
    expect(readSizes(data).data).toBeNull();
    expect(said(data)).toEqual([
      'problem: At 400 µm the cumulative share is 35 %, less than 40 % one row finer; it can only rise. Check this row, or say that the table is oversize.',
    ]);
  });
  it('says what is finer or coarser than its sizes', () => {
    expect(codes(table({ of: 'undersize', rows: of([10, 40, 90]) }))).toEqual(['open_below', 'open_above']);
  });
  it('read as oversize is the mirror of undersize', () => {
    const under = readSizes(table({ of: 'undersize', rows: of([10, 40, 90]) })).data!.binned.share;
    const over = readSizes(table({ of: 'oversize', rows: of([90, 60, 10]) })).data!.binned.share;
    under.forEach((x, i) => {
      expect(over[i]).toBeCloseTo(x, 12);
    });
  });
});

describe('grains of a photograph', () => {
  const photo = (grains: object[], more: object = {}) => sizingData.parse({ by: 'photo', grains, ...more });
  const many = Array.from({ length: 400 }, (_, i) => ({ diameter_um: 300 + i }));
  const scale = { pixel_um: 12, from: 'ruler' };
  it('without a scale are taken as given, and that is said', () => {
    expect(codes(photo(many))).toContain('no_scale');
  });
  it('warn when one of them carries more than a twentieth of the volume', () => {
    expect(said(photo([...many, { diameter_um: 4000 }], { pictures: [{ scale }] }))[0]).toBe(
      'caution: One grain, 4000 µm, carries 53 % of the volume. Photograph more grains before trusting anything above the median.',
    );
  });
  it('warn when they are few, and when they are small in the picture', () => {
    expect(codes(photo(many.slice(0, 50), { pictures: [{ scale }] }))).toContain('few_grains');
    expect(codes(photo(many, { pictures: [{ scale: { ...scale, pixel_um: 50 } }] }))).toContain(
      'small_grains',
    );
  });
  it('that were erased do not count', () => {
    const erased = photo([...many, { diameter_um: 4000, counted: false }], { pictures: [{ scale }] });
    expect(readSizes(erased).data!.effective).toBeCloseTo(
      readSizes(photo(many, { pictures: [{ scale }] })).data!.effective,
      9,
    );
  });
});
