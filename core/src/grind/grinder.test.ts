import { describe, expect, it } from 'vitest';
import { sample } from '../documents/testing/samples.ts';
import { analyseSizing } from './analyse.ts';
import { tableOf } from './classes.ts';
import { rising } from './curve-grid.ts';
import { type DialPoint, dialPointOf, dialPointOfDistribution, touchAt } from './dial-points.ts';
import { curveAt, curveLine, grinderCurve } from './grinder-curve.ts';
import { distributionOfTable, logSizesOf, tableOfLevels } from './levels.ts';
import type { SizeModel } from './model.ts';
import { settingFor, zeroShift } from './setting-for.ts';
import { normalCdf } from './special.ts';
import { five, grind, point } from './testing/dial-points.ts';

const middle = (model: SizeModel) => tableOfLevels(logSizesOf(model));

describe('the curve of a grinder', () => {
  const curve = grinderCurve(five);
  it('passes through its measurements and between them to less than the doubt of one, 1.5 %', () => {
    for (const dial of [6, 7.5, 8, 9.5]) {
      const wanted = Math.exp(logSizesOf(grind(100 * dial))[20]!) * 1e6;
      const { d50_um } = curveAt(curve, { dial });
      expect(Math.abs(d50_um.mid / wanted - 1)).toBeLessThan(0.015);
      expect(d50_um.low).toBeLessThan(wanted);
      expect(d50_um.high).toBeGreaterThan(wanted);
    }
  });
  it('is surest amid its measurements and ever less sure beyond', () => {
    const doubts = [8, 11, 13, 16].map((dial) => curveAt(curve, { dial }).doubt);
    expect(doubts).toEqual([...doubts].sort((a, b) => a - b));
    expect(doubts[3]! / doubts[0]!).toBeGreaterThan(2);
    expect(curveAt(curve, { dial: 11 }).beyond).toBe(true);
    expect(curveAt(curve, { dial: 9 }).beyond).toBe(false);
  });
  it('carries the whole distribution along, fines included', () => {
    const { fines_pct, distribution } = curveAt(curve, { dial: 8 });
    // 12 % around 48 µm with gsd 1.6: Φ(ln(100/48)/ln 1.6) of it lies below 100 µm.
    expect(Math.abs(fines_pct - 12 * normalCdf(Math.log(100 / 48) / Math.log(1.6)))).toBeLessThan(0.5);
    expect(distribution.by).toBe('classes');
    expect(tableOf(distribution).share.reduce((sum, x) => sum + x, 0)).toBeCloseTo(1, 12);
  });
  it('a single grind strays more than the curve', () => {
    const { d50_um, next_d50_um } = curveAt(curve, { dial: 8 });
    expect(next_d50_um.low).toBeLessThan(d50_um.low);
    expect(next_d50_um.high).toBeGreaterThan(d50_um.high);
  });
  it('draws as a line', () => {
    expect(curveLine(curve, 6, 10, 5).map((x) => x.dial)).toEqual([6, 7, 8, 9, 10]);
  });
  it('from more measurements is narrower', () => {
    const width = (points: readonly DialPoint[]) => curveAt(grinderCurve(points), { dial: 8.5 }).doubt;
    expect(width(five)).toBeLessThan(width([five[0]!, five[4]!]));
    expect(width([five[0]!, five[4]!])).toBeLessThan(width([five[0]!]));
  });
  it('from one or two says on how little it rests', () => {
    expect(grinderCurve([five[2]!]).remarks.map((r) => r.code)).toEqual(['few_measurements']);
    expect(curve.remarks).toEqual([]);
  });
  it('says where measurements fall instead of rising', () => {
    const { remarks } = grinderCurve([five[0]!, point(7, { median: 500 }), five[3]!]);
    expect(remarks.map((r) => r.code)).toEqual(['curve_not_rising']);
    expect(remarks[0]!.values).toEqual({ from: '6', to: '7' });
  });
  it('learns from its own zero point: a dial shifted with it changes nothing', () => {
    const moved = grinderCurve(five.map((p) => ({ ...p, dial: p.dial + 3, touch_dial: 3 })));
    const a = curveAt(curve, { dial: 8.4 }).d50_um.mid;
    expect(curveAt(moved, { dial: 11.4 }).d50_um.mid).toBeCloseTo(a, 9);
    expect(curveAt(moved, { dial: 8.4, touch_dial: 0 }).d50_um.mid).toBeCloseTo(a, 9);
    const mixed = grinderCurve([{ ...five[0]!, touch_dial: 0 }, five[1]!, five[2]!]);
    expect(mixed.remarks.map((r) => r.code)).toContain('one_zero_unknown');
  });
  it('knows that cold beans break finer, and learns by how much', () => {
    const cold = (beans_C: number) => curveAt(curve, { dial: 8, beans_C }).d50_um.mid;
    expect(cold(-20)).toBeLessThan(cold(20));
    const learnt = grinderCurve([
      ...five,
      ...[6, 8, 10].map((dial) => point(dial, { beans_C: -40, median: 100 * dial * Math.exp(-60 * 0.002) })),
    ]);
    const ratio =
      curveAt(learnt, { dial: 8, beans_C: -40 }).d50_um.mid / curveAt(learnt, { dial: 8 }).d50_um.mid;
    expect(Math.abs(Math.log(ratio) + 0.12)).toBeLessThan(0.03);
  });
  it('learns that worn burrs grind coarser', () => {
    const worn = grinderCurve([
      ...five.map((p) => ({ ...p, burrs_kg: 0 })),
      ...[6, 8, 10].map((dial) => point(dial, { burrs_kg: 400, median: 108 * dial })),
    ]);
    const at = (burrs_kg: number) => curveAt(worn, { dial: 8, burrs_kg }).d50_um.mid;
    expect(at(400) / at(0)).toBeGreaterThan(1.04);
    expect(at(400) / at(0)).toBeLessThan(1.12);
  });
  it('throws without a point: a broken contract, not bad data', () => {
    expect(() => grinderCurve([])).toThrow('at least one point');
  });
});

describe('points of a curve', () => {
  it('come from a document with the zero of that day', () => {
    const sizing = sample('sizing');
    const { analysis } = analyseSizing(sizing, { draws: 20 });
    const found = dialPointOf(sizing, analysis!, sample('grinder'))!;
    expect(found).toMatchObject({ dial: 8, touch_dial: 0.5, beans_C: 22, burrs_kg: null });
    expect(found.doubt).toBeGreaterThan(0.01);
    expect(dialPointOf({ ...sizing, dial: null }, analysis!, null)).toBeNull();
  });
  it('take the last zero before their moment', () => {
    const grinder = {
      zeros: [
        { id: 'b', at: '2027-02-01T08:00:00+00:00', touch_dial: 2 },
        { id: 'a', at: '2027-01-01T08:00:00+00:00', touch_dial: 1 },
      ],
    };
    expect(touchAt(grinder, '2026-12-31T00:00:00+00:00')).toBeNull();
    expect(touchAt(grinder, '2027-01-20T00:00:00+00:00')).toBe(1);
    expect(touchAt(grinder, null)).toBe(2);
  });
  it('may be settings that were only written down', () => {
    const written = dialPointOfDistribution('eight', 8, {
      by: 'modes',
      modes: [{ share: 1, median_um: 800, gsd: 1.4 }],
    });
    expect(Math.exp(written.logSizes[20]!) * 1e6).toBeGreaterThan(780);
    expect(Math.exp(written.logSizes[20]!) * 1e6).toBeLessThan(820);
  });
  it('are carried by quantiles that give the distribution back', () => {
    const { share, diameter } = middle(grind(700));
    expect(share.reduce((sum, x) => sum + x, 0)).toBeCloseTo(1, 12);
    const mean = diameter.reduce((sum, d, k) => sum + share[k]! * d, 0);
    // D[4,3] of both modes in closed form.
    const exact =
      0.12 * 48e-6 * Math.exp(Math.log(1.6) ** 2 / 2) + 0.88 * 700e-6 * Math.exp(Math.log(1.45) ** 2 / 2);
    expect(Math.abs(mean / exact - 1)).toBeLessThan(0.01);
    expect(distributionOfTable(middle(grind(700)))).toMatchObject({ by: 'classes' });
  });
});

describe('which setting gives', () => {
  const curve = grinderCurve(five);
  const median = (dial: number) => Math.exp(logSizesOf(grind(100 * dial))[20]!) * 1e6;
  it.each([6.5, 7.7, 9.2])('the median of setting %f', (dial) => {
    const answer = settingFor(curve, { by: 'd50', d50_um: median(dial) });
    expect(Math.abs(answer.dial.mid - dial)).toBeLessThan(0.1);
    expect(answer.dial.low).toBeLessThan(dial);
    expect(answer.dial.high).toBeGreaterThan(dial);
    expect(answer.on_scale).toBeGreaterThan(0.99);
  });
  it('a whole distribution', () => {
    const answer = settingFor(curve, { by: 'table', table: middle(grind(830)) });
    expect(Math.abs(answer.dial.mid - 8.3)).toBeLessThan(0.1);
    expect(answer.remarks).toEqual([]);
  });
  it('a distribution of another shape, with a word about it', () => {
    const answer = settingFor(curve, { by: 'table', table: middle(grind(800, 0.02)) });
    expect(answer.remarks.map((r) => r.code)).toEqual(['shape_differs']);
  });
  it('what no setting gives: the nearest, and so it is said', () => {
    const answer = settingFor(curve, { by: 'd50', d50_um: 3_000 });
    expect(answer.on_scale).toBeLessThan(0.1);
    expect(answer.remarks.map((r) => r.code)).toContain('target_off_curve');
    expect(answer.dial.mid).toBe(12);
  });
  it('is an answer on the dial of today, when the zero has moved', () => {
    const wanted = { by: 'd50', d50_um: median(8) } as const;
    const before = settingFor(curve, wanted).dial.mid;
    expect(settingFor(curve, wanted, { touch_dial: 0.7 }).dial.mid).toBeCloseTo(before + 0.7, 6);
  });
  it('the zero moved by so much, from one check after cleaning', () => {
    const shift = zeroShift(curve, { dial: 8.6, d50_um: median(8), doubt: 0.015 });
    expect(shift.low).toBeLessThan(0.6);
    expect(shift.high).toBeGreaterThan(0.6);
    expect(Math.abs(shift.mid - 0.6)).toBeLessThan(0.15);
  });
  it('curves are made to rise by the nearest that does', () => {
    expect([...rising([1, 3, 2, 4])]).toEqual([1, 2.5, 2.5, 4]);
    expect([...rising([3, 2, 1])]).toEqual([2, 2, 2]);
  });
});
