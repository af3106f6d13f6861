import { describe, expect, it } from 'vitest';
import { bedVisits } from './bed-visits.ts';

/** A bed whose cell temperatures are given row by row over time; wet from the start unless said otherwise. */
function bed(times: number[], rows: number[][], wet?: number[][]) {
  const cells = rows[0]!.length;
  return {
    time_s: Float64Array.from(times),
    bed_C: Float64Array.from(rows.flat()),
    saturation: Float64Array.from((wet ?? rows.map((row) => row.map(() => 1))).flat()),
    cells,
  };
}

describe('where the bed is near a temperature', () => {
  it('gives the moments at which a straight rise enters and leaves the band', () => {
    const { visits } = bedVisits(bed([0, 100], [[20], [70]]), 35, 1);
    expect(visits).toHaveLength(1);
    expect(visits[0]!.from_s).toBeCloseTo(28, 12);
    expect(visits[0]!.to_s).toBeCloseTo(32, 12);
    expect([visits[0]!.depth_from, visits[0]!.depth_to]).toEqual([0, 1]);
  });

  it('joins neighbouring layers that are near it at the same time and keeps others apart', () => {
    const rows = [
      [34, 35, 60, 35],
      [35, 36, 60, 36],
    ];
    const { visits } = bedVisits(bed([0, 10], rows), 35, 1.5);
    expect(visits.map((v) => [v.depth_from, v.depth_to])).toEqual([
      [0, 0.5],
      [0.75, 1],
    ]);
  });

  it('keeps two stays of one layer apart when it left the band between them', () => {
    const { visits } = bedVisits(bed([0, 10, 20, 30], [[35], [60], [60], [35]]), 35, 1);
    expect(visits).toHaveLength(2);
    expect(visits[1]!.from_s).toBeCloseTo(29.6, 12);
  });

  it('leaves dry grounds out, even at the temperature asked for', () => {
    const dry = [[0], [0], [1]];
    const { visits, nearest } = bedVisits(bed([0, 10, 20], [[21], [21], [58]], dry), 21, 1);
    expect(visits).toEqual([]);
    expect(nearest).toEqual({ temperature_C: 58, at_s: 20, depth: 0.5 });
  });

  it('says how near it came when no part of the bed was near enough', () => {
    const { visits, nearest } = bedVisits(
      bed(
        [0, 10, 20],
        [
          [60, 52],
          [58, 44],
          [70, 65],
        ].slice(0, 3),
      ),
      35,
      2,
    );
    expect(visits).toEqual([]);
    expect(nearest).toEqual({ temperature_C: 44, at_s: 10, depth: 0.75 });
  });

  it('gives the target itself as nearest when a layer passes through it between two moments', () => {
    const { nearest } = bedVisits(bed([0, 10], [[30], [40]]), 35, 0.1);
    expect(nearest).toEqual({ temperature_C: 35, at_s: 5, depth: 0.5 });
  });

  it('has nothing to say about a bed that was never wetted', () => {
    expect(bedVisits(bed([0, 10], [[21], [21]], [[0], [0]]), 21, 5)).toEqual({ visits: [], nearest: null });
  });
});
