import { describe, expect, it } from 'vitest';
import { isolines, sampleField } from './isotherms.ts';
import { makeAxis } from './time-axis.ts';
import { buildLine, lowerBound, maxOf, pathBuffer, stackRows, valueAt } from './trace-path.ts';

const range = (n: number, f: (i: number) => number) => Float64Array.from({ length: n }, (_, i) => f(i));
const points = (path: { xy: Float64Array; length: number }) =>
  Array.from({ length: path.length }, (_, i) => [path.xy[2 * i]!, path.xy[2 * i + 1]!]);

describe('lines from traces', () => {
  const flat = { zero_px: 100, per_unit: -1 };

  it('give one point a moment when moments are further apart than pixels', () => {
    const path = buildLine(
      pathBuffer(4),
      makeAxis(0, 10, 100),
      range(11, (i) => i),
      range(11, (i) => i),
      flat,
    );
    expect(points(path)[3]).toEqual([30, 97]);
    expect(path.length).toBe(11);
  });

  it('keep every peak when thousands of moments share a pixel', () => {
    const n = 20_000;
    const time = range(n, (i) => (i / (n - 1)) * 100);
    const values = range(n, (i) => (i === 12_345 ? 80 : 0));
    const path = buildLine(pathBuffer(8), makeAxis(0, 100, 200), time, values, flat);
    expect(Math.min(...points(path).map(([, y]) => y!))).toBe(20);
    expect(path.length).toBeLessThan(200 * 4 + 4);
  });

  it('break where there is nothing to show', () => {
    const values = Float64Array.from([1, Number.NaN, Number.NaN, 2]);
    const path = buildLine(
      pathBuffer(4),
      makeAxis(0, 10, 100),
      range(4, (i) => i),
      values,
      flat,
    );
    expect(points(path).map(([, y]) => y)).toEqual([99, Number.NaN, 98]);
  });

  it('run out of the frame on both sides when zoomed in', () => {
    const path = buildLine(
      pathBuffer(4),
      makeAxis(40, 60, 100),
      range(101, (i) => i),
      range(101, () => 1),
      flat,
    );
    const xs = points(path).map(([x]) => x!);
    expect(xs[0]).toBeLessThan(0);
    expect(xs[xs.length - 1]).toBeGreaterThanOrEqual(100);
    expect(path.length).toBeLessThan(25);
  });
});

describe('values at a moment', () => {
  const time = Float64Array.from([0, 1, 3]);
  it('are interpolated straight and unknown outside', () => {
    expect(valueAt(time, Float64Array.from([0, 10, 20]), 2)).toBe(15);
    expect(valueAt(time, Float64Array.from([0, 10, 20]), 4)).toBeNaN();
    expect(valueAt(time, Float64Array.from([9, 9, 9, 0, 10, 20]), 1, 3)).toBe(10);
    expect(lowerBound(time, 0.5)).toBe(1);
  });
});

describe('stacked groups', () => {
  it('add up row by row and skip what is not a number', () => {
    const sums = stackRows(Float64Array.from([1, 2, 10, Number.NaN]), 2, 2);
    expect([...sums]).toEqual([0, 0, 1, 2, 11, 2]);
    expect(maxOf(sums)).toBe(11);
    expect(maxOf(new Float64Array(0), 7)).toBe(7);
  });
});

describe('the bed by depth', () => {
  it('is sampled at even moments and unknown outside the trace', () => {
    const field = sampleField(
      makeAxis(0, 20, 100),
      Float64Array.from([0, 10]),
      Float64Array.from([0, 100, 10, 200]),
      2,
      4,
    );
    expect([...field.values].map((v) => (Number.isNaN(v) ? null : v))).toEqual([
      2.5,
      7.5,
      null,
      null,
      125,
      175,
      null,
      null,
    ]);
  });

  it('leaves out what is not there yet', () => {
    const wet = Float64Array.from([0, 0.5, 0.4, 0.5]);
    const axis = makeAxis(0, 10, 100);
    const data = Float64Array.from([20, 60, 50, 70]);
    const field = sampleField(axis, Float64Array.from([0, 10]), data, 2, 2, undefined, wet);
    expect([...field.values]).toEqual([Number.NaN, Number.NaN, 62.5, 67.5]);
  });

  it('has an isotherm where the temperature is passed', () => {
    const field = { columns: 3, rows: 2, values: Float64Array.from([0, 10, 20, 0, 10, 20]) };
    expect(isolines(field, [15])[0]!).toEqual([[1.5, 0, 1.5, 1]]);
    expect(isolines(field, [30])[0]!).toEqual([]);
  });

  it('lets two warm corners of a cell meet when its middle is warm', () => {
    const field = { columns: 2, rows: 2, values: Float64Array.from([10, 0, 0, 10]) };
    expect(isolines(field, [4])[0]!).toHaveLength(2);
    expect(isolines(field, [4])[0]![0]).toEqual([0.6, 0, 1, 0.4]);
    expect(isolines(field, [6])[0]![0]).toEqual([0.4, 0, 0, 0.4]);
  });
});
