import { describe, expect, test } from 'vitest';
import { columnTimes, drawAxis, drawBars, drawLane, valueAt } from './plot.ts';
import { fixed, table } from './table.ts';

describe('table', () => {
  test('sets the first column left and the others right, under a ruled head', () => {
    expect(
      table([
        ['cup', 'value'],
        ['beverage', '155.0'],
        ['strength', '1.75'],
      ]),
    ).toEqual(['cup       value', '--------  -----', 'beverage  155.0', 'strength   1.75']);
  });
  test('shows a dash for what is not there', () => {
    expect([fixed(null, 1), fixed(Number.NaN, 1), fixed(undefined, 1), fixed(1.25, 1)]).toEqual([
      '–',
      '–',
      '–',
      '1.3',
    ]);
  });
});

describe('valueAt', () => {
  const times = [0, 1, 1, 3];
  test('runs straight between grid points and takes the later side of a jump', () => {
    const values = [0, 10, 20, 40];
    expect([0, 0.5, 1, 2, 3].map((t) => valueAt(times, values, t))).toEqual([0, 5, 20, 30, 40]);
  });
  test('has no value outside the grid or beside a gap', () => {
    expect(valueAt(times, [0, 1, 2, 3], -1)).toBeNaN();
    expect(valueAt(times, [0, 1, 2, 3], 4)).toBeNaN();
    expect(valueAt(times, [0, 1, 2, Number.NaN], 2)).toBeNaN();
    expect(valueAt(times, [0, 1, 2, Number.NaN], 1)).toBe(2);
    expect(valueAt([], [], 0)).toBeNaN();
  });
});

describe('drawing', () => {
  test('puts marks at their level and leaves gaps', () => {
    const lines = drawLane({
      name: 'bed',
      unit: '°C',
      rows: 3,
      series: [{ mark: 'm', values: [20, Number.NaN, 60, 40] }],
    });
    expect(lines).toEqual(['bed         60 |  m', '°C             |   m', '            20 |m']);
  });
  test('fills a flow from the ground', () => {
    const lines = drawLane({
      name: 'drip',
      unit: 'g/s',
      rows: 2,
      filled: true,
      from: 0,
      series: [{ mark: ':', values: [0, 1, 2] }],
    });
    expect(lines).toEqual(['drip       2.0 | ::', 'g/s        0.0 | ::']);
  });
  test('draws a lane of nothing without falling over', () => {
    expect(
      drawLane({ name: 'head', unit: 'mm', rows: 2, series: [{ mark: ':', values: [Number.NaN] }] }),
    ).toHaveLength(2);
  });
  test('writes a pour inside its bar', () => {
    expect(
      drawBars(
        'hands',
        [
          { from: 0, to: 10, label: '50g' },
          { from: 30, to: 32, label: '' },
        ],
        40,
        8,
      ),
    ).toBe('hands          |50g   =');
  });
  test('labels the axis at round moments', () => {
    const [ruler, labels] = drawAxis(60, 24) as [string, string];
    expect(ruler).toContain('+-----------+');
    expect(labels).toMatch(/s {2}0 +30 +60/);
  });
  test('takes column moments in the middle of each part', () => {
    expect(columnTimes(10, 5)).toEqual([1, 3, 5, 7, 9]);
  });
});
