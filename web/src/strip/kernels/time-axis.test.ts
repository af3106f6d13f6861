import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  clampAxis,
  MIN_SPAN_S,
  makeAxis,
  panBy,
  pinch,
  timeTicks,
  toPx,
  toSeconds,
  zoomAt,
} from './time-axis.ts';

const extent = { from_s: -5, to_s: 300 };

describe('the time axis', () => {
  it('turns seconds to pixels and back without loss', () => {
    fc.assert(
      fc.property(fc.double({ min: -5, max: 300, noNaN: true }), (t) => {
        const axis = makeAxis(-5, 240, 800);
        expect(toSeconds(axis, toPx(axis, t))).toBeCloseTo(t, 9);
      }),
    );
  });

  it('widens a span of nothing instead of dividing by it', () => {
    const axis = makeAxis(30, 30, 400);
    expect(axis.to_s - axis.from_s).toBe(MIN_SPAN_S);
    expect(toPx(axis, 30)).toBe(200);
  });

  it('keeps the moment under the pointer while zooming inside the extent', () => {
    const axis = makeAxis(0, 200, 1_000);
    const closer = zoomAt(axis, 300, 2, extent);
    expect(toSeconds(closer, 300)).toBeCloseTo(60, 9);
    expect(closer.to_s - closer.from_s).toBeCloseTo(100, 9);
  });

  it('never shows more than the extent or less than the shortest span', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: 0, max: 800, noNaN: true }),
            fc.double({ min: 0.2, max: 5, noNaN: true }),
          ),
        ),
        (moves) => {
          let axis = makeAxis(0, 200, 800);
          for (const [px, factor] of moves) axis = panBy(zoomAt(axis, px, factor, extent), px - 400, extent);
          expect(axis.from_s).toBeGreaterThanOrEqual(extent.from_s - 1e-9);
          expect(axis.to_s).toBeLessThanOrEqual(extent.to_s + 1e-9);
          expect(axis.to_s - axis.from_s).toBeGreaterThanOrEqual(MIN_SPAN_S - 1e-9);
        },
      ),
    );
  });

  it('pans by what the finger moved and stops at the end', () => {
    const axis = makeAxis(0, 100, 500);
    expect(panBy(axis, 50, extent).from_s).toBeCloseTo(10, 9);
    expect(panBy(axis, 1e6, extent).to_s).toBe(300);
    expect(clampAxis(makeAxis(-50, 500, 500), extent)).toMatchObject(extent);
  });

  it('keeps both moments under two fingers that move apart', () => {
    const axis = makeAxis(0, 200, 1_000);
    const zoomed = pinch(axis, [400, 600], [300, 700], extent);
    expect(toSeconds(zoomed, 300)).toBeCloseTo(80, 9);
    expect(toSeconds(zoomed, 700)).toBeCloseTo(120, 9);
  });

  it('leaves the axis alone when two fingers lie on one point', () => {
    const axis = makeAxis(0, 200, 1_000);
    expect(pinch(axis, [400, 400], [300, 700], extent)).toBe(axis);
  });

  it.each([
    [0, 200, 800, 15],
    [0, 200, 360, 60],
    [0, 20, 800, 2],
    [0, 3_600, 360, 600],
  ])('puts major ticks of %d–%d s over %d px at every %d s', (from, to, width, step) => {
    const majors = timeTicks(makeAxis(from, to, width)).filter((tick) => tick.major);
    expect(majors[1]!.time_s - majors[0]!.time_s).toBe(step);
    expect(majors.every((tick) => tick.time_s % step === 0)).toBe(true);
  });
});
