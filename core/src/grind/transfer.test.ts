import { describe, expect, it } from 'vitest';
import { randomOf } from './bootstrap.ts';
import { grinderCurve } from './grinder-curve.ts';
import { logSizesOf, tableOfLevels } from './levels.ts';
import type { SizeModel } from './model.ts';
import { settingFor } from './setting-for.ts';
import { five, grind, point } from './testing/dial-points.ts';
import { transferByBrews, transferBySizes } from './transfer.ts';

const middle = (model: SizeModel) => tableOfLevels(logSizesOf(model));

describe('transfer by sizes', () => {
  it('finds the setting of the other grinder, as wide as both curves', () => {
    const other = grinderCurve([20, 26, 32].map((dial) => point(dial, { median: 30 * dial + 10 })));
    const answer = transferBySizes(grinderCurve(five), 8, other);
    expect(Math.abs(answer.dial.mid - (800 - 10) / 30)).toBeLessThan(1);
    const alone = settingFor(other, { by: 'table', table: middle(grind(800)) });
    expect(answer.dial.high - answer.dial.low).toBeGreaterThan(0.95 * (alone.dial.high - alone.dial.low));
  });
});

describe('transfer by brews', () => {
  /** A second grinder whose drawdown and yield follow its dial without scatter. */
  const brew = (dial: number) => ({
    dial,
    drawdown_s: 170 * (dial / 24) ** -1.6,
    yield_pct: 21 - 4 * Math.log(dial / 24),
  });
  const wanted = { drawdown_s: 170, yield_pct: 21, brews: 2 };
  it.each([[[20, 28]], [[21, 24, 28]], [[20, 23, 26, 29]]])(
    'brews at %j come to 24 within the band',
    (dials) => {
      const answer = transferByBrews({ wanted, brews: dials.map(brew) })!;
      expect(Math.abs(answer.dial.mid - 24)).toBeLessThan(0.6);
      expect(answer.dial.low).toBeLessThan(24);
      expect(answer.dial.high).toBeGreaterThan(24);
    },
  );
  it('is narrower with more brews, with both figures, and with steadier hands', () => {
    const width = (order: Parameters<typeof transferByBrews>[0]) => {
      const { low, high } = transferByBrews(order)!.dial;
      return high - low;
    };
    const two = width({ wanted, brews: [20, 28].map(brew) });
    expect(width({ wanted, brews: [20, 23, 26, 29].map(brew) })).toBeLessThan(two);
    expect(width({ wanted: { ...wanted, yield_pct: null }, brews: [20, 28].map(brew) })).toBeGreaterThan(two);
    expect(
      width({ wanted, brews: [20, 28].map(brew), drawdown_repeat_pct: 2, yield_repeat_pct: 0.1 }),
    ).toBeLessThan(0.6 * two);
  });
  it('from brews too near each other leans on the usual slope and says so', () => {
    const { remarks } = transferByBrews({ wanted, brews: [brew(23.9), brew(24.1)] })!;
    expect(remarks.map((r) => r.code)).toContain('slope_assumed');
  });
  it('far from every brew asks for one there', () => {
    const { remarks, dial } = transferByBrews({ wanted, brews: [brew(34), brew(38)] })!;
    expect(remarks.map((r) => r.code)).toContain('transfer_far');
    expect(dial.mid).toBeLessThan(34);
  });
  it('says when drawdown and yield want different settings', () => {
    const odd = [20, 23, 26, 29].map((dial) => ({ ...brew(dial), yield_pct: brew(dial).yield_pct! - 1.6 }));
    const { remarks, by_drawdown, by_yield } = transferByBrews({ wanted, brews: odd })!;
    expect(remarks.map((r) => r.code)).toContain('answers_disagree');
    expect(by_drawdown!.mid - by_yield!.mid).toBeGreaterThan(4);
  });
  it('has nothing to say without a figure in common', () => {
    expect(
      transferByBrews({
        wanted: { drawdown_s: 170, yield_pct: null, brews: 1 },
        brews: [{ dial: 20, drawdown_s: null, yield_pct: 20 }],
      }),
    ).toBeNull();
  });
  it('bands of 90 % hold the setting in 83–97 % of 200 transfers with scatter', () => {
    const random = randomOf(3);
    const scattered = (dial: number) => {
      const { drawdown_s, yield_pct } = brew(dial);
      return {
        dial,
        drawdown_s: drawdown_s * Math.exp(0.06 * random.normal()),
        yield_pct: yield_pct + 0.35 * random.normal(),
      };
    };
    let inside = 0;
    for (let k = 0; k < 200; k++) {
      const target = scattered(24);
      const { low, high } = transferByBrews({
        wanted: { ...target, brews: 1 },
        brews: [20, 24, 28].map(scattered),
        draws: 200,
        seed: k,
      })!.dial;
      if (low <= 24 && 24 <= high) inside++;
    }
    expect(inside / 200).toBeGreaterThan(0.83);
    expect(inside / 200).toBeLessThan(0.97);
  });
});
