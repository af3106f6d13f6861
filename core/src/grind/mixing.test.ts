import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Distribution } from '../documents/index.ts';
import { shareBelow, tableOf } from './classes.ts';
import { tableFigures } from './figures.ts';
import { type GrindMixOrder, type GrindMixPart, keptOf, sieveTable, workOutGrindMix } from './grind-mix.ts';
import { checkJars } from './jars.ts';
import { readPlainCurve, readPlainGrindMix, readPlainJars, readPlainTransfer } from './plain-orders.ts';
import { sieved, usualGrind } from './testing/sievings.ts';

const modes = (median_um: number, fines = 0.12): Distribution => ({
  by: 'modes',
  modes: [
    { share: 1 - fines, median_um, gsd: 1.45 },
    { share: fines, median_um: 48, gsd: 1.6 },
  ],
});
const part = (name: string, share: number, more: Partial<GrindMixPart> = {}): GrindMixPart => ({
  name,
  share,
  table: tableOf(modes(800)),
  cut: null,
  retention_g: 0,
  loss: 0,
  ...more,
});
const order = (parts: readonly GrindMixPart[], more: Partial<GrindMixOrder> = {}): GrindMixOrder => ({
  parts,
  dose_g: 15,
  cups: 3,
  step_g: 0.1,
  grinding: 'each_cup',
  fines_limit_um: 100,
  ...more,
});
const codes = (sheet: ReturnType<typeof workOutGrindMix>) => sheet!.remarks.map((r) => r.code);

describe('sieving a grind out', () => {
  const table = tableOf(modes(800));
  it('keeps what lies between the sieves, and its share of the mass', () => {
    const { table: kept, kept: share } = sieveTable(table, { above_um: 250, below_um: 1200, blur_gsd: 1 })!;
    expect(kept.diameter[0]).toBeGreaterThan(250e-6);
    expect(kept.diameter.at(-1)).toBeLessThan(1200e-6);
    expect(share).toBeCloseTo(shareBelow(table, 1200e-6) - shareBelow(table, 250e-6), 9);
    expect(kept.share.reduce((sum, x) => sum + x, 0)).toBeCloseTo(1, 12);
  });
  it('cuts at one half where it cuts, when it is blurred', () => {
    const blurred = { above_um: 400, below_um: null, blur_gsd: 1.2 };
    expect(keptOf(400e-6, blurred)).toBeCloseTo(0.5, 12);
    expect(keptOf(300e-6, blurred)).toBeLessThan(0.1);
    expect(keptOf(500e-6, blurred)).toBeGreaterThan(0.85);
  });
  it('of everything leaves nothing', () => {
    expect(sieveTable(table, { above_um: 9_000, below_um: null, blur_gsd: 1 })).toBeNull();
  });
});

describe('a mix', () => {
  it('is weighed in whole steps that make the dose', () => {
    const sheet = workOutGrindMix(order([part('a', 0.7), part('b', 0.3)]))!;
    expect(sheet.parts.map((p) => p.per_cup_g)).toEqual([10.5, 4.5]);
    expect(sheet.dose_g).toBe(15);
    expect(sheet.parts.map((p) => [p.beans_g, p.grindings])).toEqual([
      [10.5, 3],
      [4.5, 3],
    ]);
    expect(sheet.beans_g).toBe(45);
    expect(sheet.remarks).toEqual([]);
  });
  it('asks for more beans where grounds are kept back, lost or sieved out', () => {
    const cut = { above_um: 250, below_um: null, blur_gsd: 1 };
    const sheet = workOutGrindMix(
      order([part('a', 1, { cut, retention_g: 0.2, loss: 0.02 })], { grinding: 'one_batch' }),
    )!;
    const [a] = sheet.parts;
    // 45 g in the cups; of what is ground, 0.2 g stay, 2 % are lost, and 1 − kept is sieved out.
    expect(a!.beans_g).toBeCloseTo(Math.ceil((45 / a!.kept / 0.98 + 0.2) * 10) / 10, 9);
    expect((a!.beans_g - 0.2) * 0.98 * a!.kept).toBeGreaterThanOrEqual(45);
    expect(a!.beans_g - a!.lost_g - a!.sieved_out_g).toBeCloseTo((a!.beans_g - 0.2) * 0.98 * a!.kept, 9);
    expect(codes(sheet)).toEqual(expect.arrayContaining(['sieved_out', 'ideal_sieve']));
  });
  it('has the sizes of its parts by mass: shares and surface add up', () => {
    const [coarse, fine] = [tableOf(modes(1000, 0.1)), tableOf(modes(600, 0.15))];
    const sheet = workOutGrindMix(
      order([part('a', 0.6, { table: coarse }), part('b', 0.4, { table: fine })]),
    )!;
    const surface = (t: typeof coarse) => tableFigures(t, 1e-4).surface_m2_kg!;
    expect(sheet.figures.surface_m2_kg).toBeCloseTo(0.6 * surface(coarse) + 0.4 * surface(fine), 9);
    expect(sheet.figures.fines_pct).toBeCloseTo(
      100 * (0.6 * shareBelow(coarse, 1e-4) + 0.4 * shareBelow(fine, 1e-4)),
      9,
    );
  });
  it('says when the scale is too coarse for a share, or swallows a part', () => {
    expect(
      codes(workOutGrindMix(order([part('a', 0.95), part('b', 0.05)], { dose_g: 12, step_g: 1 }))),
    ).toEqual(['share_off', 'share_off']);
    expect(
      codes(workOutGrindMix(order([part('a', 0.98), part('b', 0.02)], { dose_g: 12, step_g: 1 }))),
    ).toContain('part_rounds_away');
  });
  it('says when the grinder keeps much, and when sieves leave nothing of a part', () => {
    const none = { above_um: 9_000, below_um: null, blur_gsd: 1 };
    const sheet = workOutGrindMix(order([part('a', 0.9, { retention_g: 2 }), part('b', 0.1, { cut: none })]));
    expect(codes(sheet)).toEqual(['part_all_cut', 'retention_high']);
    expect(sheet!.parts).toHaveLength(1);
    expect(workOutGrindMix(order([part('b', 1, { cut: none })]))).toBeNull();
  });
  it('never weighs off the dose by more than half a step, whatever the shares', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 50, max: 400 }),
        fc.constantFrom(0.01, 0.1, 0.5),
        (shares, tenths, step_g) => {
          const dose_g = tenths / 10;
          const one = tableOf({ by: 'classes', classes: [{ diameter_um: 700, share: 1 }] });
          const parts = shares.map((share, i) => part(String(i), share, { table: one }));
          const sheet = workOutGrindMix(order(parts, { dose_g, step_g }))!;
          expect(Math.abs(sheet.dose_g - dose_g)).toBeLessThanOrEqual(step_g / 2 + 1e-9);
          const total = shares.reduce((sum, x) => sum + x, 0);
          sheet.parts.forEach((p, i) => {
            expect(Math.abs(p.per_cup_g - (shares[i]! / total) * dose_g)).toBeLessThan(1.5 * step_g + 1e-9);
          });
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
  });
});

describe('jars', () => {
  const jars = (...net: number[]) =>
    net.map((weighed_g, i) => ({ name: 'abcdef'[i]!, weighed_g, tare_g: 0 }));
  const check = (net: number[], brewers_g: number[], tolerance_g = 0.1) =>
    checkJars({ jars: jars(...net), brewers_g, retention_g: 0.1, tolerance_g, step_g: 0.1 });
  const places = (found: ReturnType<typeof checkJars>) => found.jars.map((jar) => jar.brewer);
  it('go to the brewers they fit best, the rest are spares', () => {
    const found = check([16.1, 16.6, 16, 16.2], [16, 16, 16]);
    expect(places(found)).toEqual([1, null, 0, 2]);
    expect(found.spread_g).toBeCloseTo(0.2, 9);
    expect(found.doubt_g).toBeCloseTo(0.0816, 4);
    expect(found.remarks.map((r) => [r.level, r.code])).toEqual([['note', 'jar_outside']]);
  });
  it('fit brewers that want different doses, by mass', () => {
    expect(places(check([20.1, 15.1, 18.1], [15, 20, 18]))).toEqual([1, 0, 2]);
  });
  it('outside the tolerance are named with what is off, and how many more to weigh', () => {
    const found = check([16.1, 16.5], [16, 16, 16]);
    expect(found.remarks.map((r) => r.sentence)).toEqual([
      'B delivers 16.4 g, 0.4 g off the 16 g wanted (allowed 0.1).',
      '1 jars are within tolerance and 3 are needed. Weigh 2 more.',
    ]);
  });
  it('that hold nothing are told apart', () => {
    const found = checkJars({
      jars: [{ name: 'a', weighed_g: 100, tare_g: 120 }],
      brewers_g: [16],
      retention_g: 0,
      tolerance_g: 0.1,
      step_g: 0.1,
    });
    expect(found.remarks[0]!.sentence).toBe('A: its net mass is -20 g. Weigh the empty jar again.');
    expect(places(found)).toEqual([null]);
  });
  it('are never matched worse than by trying every choice', () => {
    const mass = fc.integer({ min: 140, max: 180 }).map((x) => x / 10);
    fc.assert(
      fc.property(
        fc.array(mass, { minLength: 2, maxLength: 5 }),
        fc.array(mass, { minLength: 1, maxLength: 2 }),
        (net, wants) => {
          const cost = (chosen: readonly number[]) =>
            chosen.reduce((sum, jar, k) => sum + (net[jar]! - 0.1 - wants[k]!) ** 2, 0);
          const all = wants.reduce<number[][]>(
            (lists) =>
              lists.flatMap((list) => net.flatMap((_, i) => (list.includes(i) ? [] : [[...list, i]]))),
            [[]],
          );
          const found = check(net, wants);
          const chosen = wants.map((_, k) => found.jars.findIndex((jar) => jar.brewer === k));
          expect(cost(chosen)).toBeCloseTo(Math.min(...all.map(cost)), 9);
        },
      ),
      { seed: 20261125, numRuns: 150 },
    );
  });
});

describe('orders written by hand', () => {
  const sentences = (read: { ok: boolean; problems?: readonly { sentence: string }[] }) =>
    read.ok ? [] : read.problems!.map((p) => p.sentence);
  it('a mix takes distributions or measurements', () => {
    const read = readPlainGrindMix({
      parts: [
        { name: 'coarse', share: 2, distribution: modes(1000) },
        { name: 'fine', share: 1, data: sieved(usualGrind, { step_g: 0.1 }) },
      ],
      dose_g: 15,
    });
    if (!read.ok) throw new Error(sentences(read).join(' '));
    const sheet = workOutGrindMix(read.value)!;
    expect(sheet.parts.map((p) => p.per_cup_g)).toEqual([10, 5]);
    expect(Math.abs(sheet.parts[1]!.figures.d50_um! / 640 - 1)).toBeLessThan(0.05);
  });
  it('what is wrong is named by its place', () => {
    expect(sentences(readPlainGrindMix({ parts: [{ name: 'a', share: 1 }], dose_g: 15 }))).toEqual([
      'Parts, row 1 says nothing of sizes; give it a distribution, or the data of a measurement that holds something.',
    ]);
    expect(sentences(readPlainGrindMix({ parts: [], dose_g: 0 }))).toEqual([
      'Parts has 0 entries; it needs at least 1.',
      'Dose is 0 g; it must be at least 1 g.',
    ]);
    expect(sentences(readPlainJars({ jars: [], brewers_g: [16] }))).toEqual([
      'Jars has 0 entries; it needs at least 1.',
    ]);
    expect(sentences(readPlainCurve({ points: [{ name: 'a', dial: '8' }] }))).toContain(
      'Points, row 1: dial is "8"; it must be a number.',
    );
    expect(sentences(readPlainTransfer({ by: 'feel' }))).toEqual([
      'By is "feel"; it must be one of: brews, sizes.',
    ]);
  });
  it('a curve and transfers are read', () => {
    const points = [6, 8, 10].map((dial) => ({ name: String(dial), dial, distribution: modes(100 * dial) }));
    const curve = readPlainCurve({ points });
    expect(curve).toMatchObject({ ok: true, value: [{ dial: 6, doubt: 0.05 }, { dial: 8 }, { dial: 10 }] });
    expect(readPlainTransfer({ by: 'sizes', from: { points }, dial: 7, to: { points } })).toMatchObject({
      ok: true,
    });
    expect(
      readPlainTransfer({
        by: 'brews',
        wanted: { drawdown_s: 170 },
        brews: [{ dial: 20, drawdown_s: 200 }],
        drawdown_repeat_pct: 5,
      }),
    ).toMatchObject({ ok: true, value: { by: 'brews', order: { touch_dial: 0, drawdown_repeat_pct: 5 } } });
  });
});
