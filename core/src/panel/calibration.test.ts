import { describe, expect, it } from 'vitest';
import { calibrate } from './calibration.ts';
import { panelMixed } from './panel-mixed.ts';

const TASTERS = ['Ines', 'Joris', 'Kei', 'Lena', 'Milo'];

describe('calibration and unbalanced panels', () => {
  const scores = [1, 2, 3, 4].flatMap((session) =>
    ['Ines', 'Joris', 'Kei'].flatMap((taster, t) =>
      ['x', 'y', 'x'].map((cup, i) => ({
        taster,
        session,
        cup,
        score:
          6 +
          (cup === 'y' ? 1 : 0) +
          [0, 0.5, 0.1 * session][t]! +
          [0.1, 0.1, 0.3][t]! * ((i + session * (t + 2)) % 3 === 0 ? 1 : -1),
      })),
    ),
  );
  it('offset, drift and repeatability of each taster; weights shown and adding up to 1', () => {
    const found = calibrate(scores, { agreed: { x: 6, y: 7 }, weights: 'by_repeatability' });
    const of = (name: string) => found.find((t) => t.taster === name)!;
    expect(of('Joris').offset).toBeGreaterThan(0.3);
    expect(Math.abs(of('Joris').shrunken_offset)).toBeLessThanOrEqual(Math.abs(of('Joris').offset));
    expect(of('Kei').drift!.per_session).toBeGreaterThan(0.02);
    expect(of('Kei').weight).toBeLessThanOrEqual(of('Ines').weight);
    expect(found.reduce((t, c) => t + c.weight, 0)).toBeCloseTo(1, 12);
    expect(calibrate(scores).map((t) => t.weight)).toEqual([1 / 3, 1 / 3, 1 / 3]);
  });
  it('a panel with holes and windows: cups differ, the same way in each window', () => {
    const rows = TASTERS.flatMap((taster, t) =>
      ['a', 'b', 'c'].flatMap((cup, c) =>
        ['hot', 'cold'].flatMap((window, w) =>
          (t + c + w) % 7 === 6
            ? []
            : [
                {
                  taster,
                  cup,
                  window,
                  score: 6 + c + 0.5 * w + 0.2 * t + 0.1 * ((t * 3 + c * 5 + w * 2) % 4),
                },
              ],
        ),
      ),
    );
    const found = panelMixed(rows)!;
    expect(found.cups).toEqual(['a', 'b', 'c']);
    expect(found.cup_test!.p).toBeLessThan(1e-6);
    expect(found.window_test!.p).toBeGreaterThan(0.05);
    expect(found.pairs).toHaveLength(3);
    for (const { difference, first, second, p_holm, p } of found.pairs) {
      expect(difference).toBeCloseTo(first === 'a' && second === 'c' ? -2 : -1, 0);
      expect(p_holm).toBeGreaterThanOrEqual(p);
    }
    expect(panelMixed(rows.slice(0, 3))).toBeNull();
  });
  it('repeats scored exactly alike say nothing of the error: as in the two-way table without them', () => {
    // Rows are tasters, columns cups; the second cup was tasted twice and scored alike each time.
    const table = [
      [4, 4.5, 6.5],
      [3.5, 5, 5.5],
      [5, 4, 6.5],
      [5, 5.5, 6.5],
      [6, 6, 7],
    ];
    const rows = table.flatMap((scores, t) =>
      scores.flatMap((score, c) =>
        Array.from({ length: c === 1 ? 2 : 1 }, () => ({ taster: `t${t}`, cup: `c${c}`, score })),
      ),
    );
    // By hand: mean squares of cups and of what is left after tasters and cups (Fisher's two-way table).
    const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
    const all = mean(table.flat());
    const ofCup = [0, 1, 2].map((c) => mean(table.map((row) => row[c]!)));
    const between = (5 * ofCup.reduce((sum, m) => sum + (m - all) ** 2, 0)) / 2;
    const left =
      table.reduce(
        (sum, row) => sum + row.reduce((s, v, c) => s + (v - mean(row) - ofCup[c]! + all) ** 2, 0),
        0,
      ) / 8;
    const found = panelMixed(rows)!;
    // The likelihood is climbed to about six digits.
    expect(found.cup_test!.f).toBeCloseTo(between / left, 4);
    expect(found.cup_test!.df2).toBeCloseTo(8, 3);
    expect(found.variances.map((v) => v.name)).toEqual(['taster']);
  });
});
