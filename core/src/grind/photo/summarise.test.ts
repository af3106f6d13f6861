import { describe, expect, it } from 'vitest';
import { sizeGrains } from './grains.ts';
import { summarisePhoto, summarisePhotos, weightedQuantile } from './summarise.ts';
import { measurementOf } from './testing/plain-pictures.ts';
import { dice } from './testing/shape.ts';

/** Diameters drawn from a log-normal by number. */
function draw(count: number, median: number, gsd: number, seed: number): number[] {
  const random = dice(seed);
  return Array.from({ length: count }, () => median * Math.exp(Math.log(gsd) * random.normal()));
}
const summaryOf = (...given: Parameters<typeof summarisePhoto>) => {
  const summary = summarisePhoto(...given);
  if (!summary) throw new Error('too few grains');
  return summary;
};

describe('a quantile of weighted values', () => {
  it('counts the weight up to the middle of each', () => {
    expect(weightedQuantile([1, 2, 3], [1, 1, 1], 0.5)).toBe(2);
    expect(weightedQuantile([1, 2], [1, 1], 0.5)).toBe(1.5);
    expect(weightedQuantile([1, 2], [1, 3], 0.9)).toBe(2);
    expect(weightedQuantile([5], [1], 0.1)).toBe(5);
  });
});

describe('figures by volume', () => {
  // Counts and means from an independent calculation, written down with the definitions of ISO 9276-2.
  const counts = [5000, 1200, 400, 250, 210, 180, 140, 80, 30, 8];
  const sizes = [75, 150, 250, 350, 450, 550, 650, 750, 850, 950];
  const diameters = counts.flatMap((n, k) => new Array<number>(n).fill(sizes[k]!));
  const summary = summaryOf(measurementOf(diameters), { runs: 20 });
  it('are D[3,2] = 497.967 µm and D[4,3] = 610.764 µm for the counts of a histogram', () => {
    expect(summary.d32_um.value).toBeCloseTo(497.9667370954, 6);
    expect(summary.d43_um.value).toBeCloseTo(610.7638502671, 6);
  });
  it('give two thirds of the grains 1.243 % of the volume', () => {
    expect(summary.classes[0]?.share).toBeCloseTo(0.01243060041826, 9);
    expect(summary.number_median_um).toBeCloseTo(75, 9);
  });
  it('do not depend on the order of the grains', () => {
    const mixed = [...diameters].reverse();
    expect(summaryOf(measurementOf(mixed), { runs: 20 }).d50_um.value).toBe(summary.d50_um.value);
  });
});

describe('bands', () => {
  it('hold the grounds and not only the grains: counting noise of the few large ones', () => {
    let held = [0, 0, 0];
    const trials = 60;
    const s = Math.log(1.45);
    const truth = [-1.281552, 0, 1.281552].map((z) => 500 * Math.exp(3 * s * s + z * s));
    for (let trial = 0; trial < trials; trial++) {
      const summary = summaryOf(measurementOf(draw(300, 500, 1.45, 100 + trial)), { runs: 120 });
      const bands = [summary.d10_um, summary.d50_um, summary.d90_um];
      held = held.map((n, k) => n + (bands[k]!.low <= truth[k]! && truth[k]! <= bands[k]!.high ? 1 : 0));
    }
    const all = held.reduce((a, b) => a + b, 0) / (3 * trials);
    expect(all).toBeGreaterThan(0.85);
    expect(all).toBeLessThan(0.96);
  });
  it('shrink as the square root of the number of grains', () => {
    const width = (n: number): number => {
      const { d50_um } = summaryOf(measurementOf(draw(n, 500, 1.4, 7)));
      return (d50_um.high - d50_um.low) / d50_um.value;
    };
    expect(width(300) / width(4800)).toBeGreaterThan(2.5);
    expect(width(300) / width(4800)).toBeLessThan(6.5);
  });
  it('grow with the doubt of the scale, and always hold their value', () => {
    const sure = measurementOf(draw(3000, 500, 1.3, 3));
    const unsure = { ...sure, plane: { ...sure.plane!, doubt: 0.05 } };
    const a = summaryOf(sure).d50_um;
    const b = summaryOf(unsure).d50_um;
    expect(b.high - b.low).toBeGreaterThan(2 * (a.high - a.low));
    for (const band of [a, b]) {
      expect(band.low).toBeLessThanOrEqual(band.value);
      expect(band.high).toBeGreaterThanOrEqual(band.value);
    }
  });
  it('are the same every time', () => {
    const m = measurementOf(draw(250, 500, 1.4, 4));
    expect(summarisePhoto(m)).toEqual(summarisePhoto(m));
  });
  it('narrow when two pictures are taken together', () => {
    const [a, b] = [measurementOf(draw(400, 500, 1.4, 5)), measurementOf(draw(400, 500, 1.4, 6))];
    const alone = summaryOf(a).d50_um;
    const together = summarisePhotos([{ measurement: a }, { measurement: b }])!.d50_um;
    expect(together.high - together.low).toBeLessThan(0.9 * (alone.high - alone.low));
  });
});

describe('accepting and erasing', () => {
  const m = measurementOf([...draw(400, 400, 1.3, 8), 2500]);
  it('one huge grain is named, and gone when it is erased', () => {
    const before = summaryOf(m);
    const carried = before.remarks.find((r) => r.code === 'one_carries');
    expect(carried?.values.id).toBe(401);
    expect(carried?.sentence).toMatch(/^One grain \(number 401\) carries \d+ % of the volume/);
    const after = summaryOf(m, { erased: new Set([401]) });
    expect(after.remarks.map((r) => r.code)).not.toContain('one_carries');
    expect(after.grains).toBe(400);
    expect(after.d90_um.value).toBeLessThan(0.6 * before.d90_um.value);
  });
  it('fewer than five grains give no figures', () => {
    expect(summarisePhoto(measurementOf([100, 200, 300, 400]))).toBeNull();
  });
  it('few grains, small grains and the assumption about volume are said', () => {
    const few = measurementOf(draw(30, 500, 1.2, 2));
    const small = { ...few, grains: few.grains.map((g) => ({ ...g, small: true })) };
    const codes = summaryOf(small).remarks.map((r) => r.code);
    expect(codes).toEqual(expect.arrayContaining(['few_grains', 'small_grains', 'volume_assumed']));
  });
});

describe('from shadow to volume', () => {
  /** A lying ellipsoid a × b × c, longest first: its shadow is a × b. */
  const grains = draw(2000, 300, 1.35, 12).map((width, k) => {
    const long = width * (1 + (k % 7) / 7);
    return { width, long, thick: 0.75 * width, volume: (Math.PI / 6) * long * width * 0.75 * width };
  });
  const base = measurementOf(grains.map((g) => Math.sqrt(g.long * g.width)));
  const m = {
    ...base,
    grains: base.grains.map((g, k) => ({ ...g, length_um: grains[k]!.long, width_um: grains[k]!.width })),
  };
  const exact = (at: number): number => {
    const sorted = grains
      .map((g) => ({ d: Math.sqrt(g.long * g.width), v: g.volume }))
      .sort((a, b) => a.d - b.d);
    return weightedQuantile(
      sorted.map((g) => Math.log(g.d)),
      sorted.map((g) => g.v),
      at,
    );
  };
  it('as rollers, lying grains of one flatness have exactly their shares', () => {
    const rollers = summaryOf(m, { volume: { by: 'roller', flatness: { low: 0.6, high: 1 } }, runs: 10 });
    expect(rollers.d50_um.value).toBeCloseTo(Math.exp(exact(0.5)), 6);
    expect(rollers.d90_um.value).toBeCloseTo(Math.exp(exact(0.9)), 6);
  });
  it('as spheres, they are off by the spread of their slenderness only', () => {
    expect(summaryOf(m, { runs: 10 }).d50_um.value / Math.exp(exact(0.5))).toBeCloseTo(1, 1);
  });
  it('the sphere of the same volume lies in the range that is said', () => {
    const { sphere_over_shadow } = summaryOf(m, { runs: 10 });
    const total = grains.reduce((sum, g) => sum + g.volume, 0);
    const ofShadow = grains.reduce((sum, g) => sum + (Math.PI / 6) * (g.long * g.width) ** 1.5, 0);
    const ratio = (total / ofShadow) ** (1 / 3);
    expect(ratio).toBeGreaterThan(sphere_over_shadow.low);
    expect(ratio).toBeLessThan(sphere_over_shadow.high);
  });
});

describe('grains cut by the border', () => {
  it('are stood for by the whole ones: counts of large and small come out right (Miles 1974, Lantuéjoul 1980)', () => {
    const random = dice(21);
    const field: [number, number][] = [
      [0, 0],
      [600, 0],
      [600, 400],
      [0, 400],
    ];
    const plane = { by: 'pixel' as const, um_per_px: 1, doubt: 0, homography: null, tilt_deg: null };
    const base = measurementOf([100, 20]).grains;
    const found = { large: 0, small: 0, plainLarge: 0 };
    const fields = 4000;
    for (let k = 0; k < fields; k++) {
      for (const [size, kind] of [[100, 'large'] as const, [20, 'small'] as const]) {
        // A middle anywhere within reach of the field: on average one middle a field falls inside it.
        const [w, h] = [600 + 2 * size, 400 + 2 * size];
        for (let n = poisson((w * h) / 240_000, random.even); n > 0; n--) {
          const x = w * random.even() - size;
          const y = h * random.even() - size;
          const half = size / 2;
          if (x < half || y < half || x > 600 - half || y > 400 - half) continue;
          const grain = { ...base[0]!, box_px: [size, size] as const, area_px: (Math.PI * size * size) / 4 };
          found[kind] += sizeGrains([grain], plane, field, 1e6)[0]!.weight;
          if (kind === 'large') found.plainLarge++;
        }
      }
    }
    expect(Math.abs(found.large / fields - 1)).toBeLessThan(0.05);
    expect(Math.abs(found.small / fields - 1)).toBeLessThan(0.05);
    // Without the weights a quarter to a half of the large ones would be missing.
    expect(found.plainLarge / fields).toBeLessThan(0.7);
  });
});

function poisson(mean: number, even: () => number): number {
  let n = 0;
  for (let p = even(); p > Math.exp(-mean); p *= even()) n++;
  return n;
}
