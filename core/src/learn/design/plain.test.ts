import { describe, expect, it } from 'vitest';
import type { PlainKind } from '../../panel/plain/kind.ts';
import { PLAIN_DIFFERENCE } from '../difference/plain.ts';
import { PLAIN_NEXT } from '../next/plain.ts';
import { PLAIN_DESIGN } from './plain.ts';

const ALL: Record<string, PlainKind> = { ...PLAIN_DIFFERENCE, ...PLAIN_DESIGN, ...PLAIN_NEXT };

const refused = (kind: PlainKind, input: unknown): string[] => {
  const found = kind.answer(input);
  if (found.ok) throw new Error('it was not refused');
  return found.problems.map(({ sentence }) => sentence);
};

describe('questions typed by hand', () => {
  it.each(Object.entries(ALL))('%s answers its own example, in sentences without gaps', (_, kind) => {
    const found = kind.answer(kind.example);
    if (!found.ok) throw new Error(found.problems[0]!.sentence);
    for (const { sentence } of found.value.findings)
      expect(sentence).not.toMatch(/\{|undefined|NaN| {2}|\[object/);
    expect(JSON.stringify(found.value.figures).length).toBeGreaterThan(2);
    expect(kind.input()).toHaveProperty('type', 'object');
  });
  it.each(Object.entries(ALL))('%s refuses what is no table', (_, kind) => {
    for (const input of [null, [], 'x', 3, {}]) expect(refused(kind, input).length).toBeGreaterThan(0);
  });
  it('names field, value and what would do', () => {
    expect(
      refused(PLAIN_DIFFERENCE.brews, { a: { name: 'x', brews: [1] }, b: { name: 'x', brews: [2] } }),
    ).toEqual(['B: name is "x", which is there already; every name may stand once.']);
    const factors = [{ name: 'grind', low: 22, high: 18 }];
    expect(refused(PLAIN_DESIGN.make, { factors, kind: 'full_factorial' })).toEqual([
      'Factors, row 1: low is 22; it must be below high, 18.',
    ]);
    const three = ['a', 'b', 'c'].map((name) => ({ name, low: 0, high: 1 }));
    expect(refused(PLAIN_DESIGN.make, { factors: three, kind: 'fractional_factorial', runs: 6 })).toEqual([
      'Runs is 6; for 3 factors it must be one of: 4.',
    ]);
    expect(refused(PLAIN_DESIGN.make, { factors: three, kind: 'd_optimal', runs: 5 })).toEqual([
      'Runs is 5; to tell 10 terms it must be at least 10.',
    ]);
    expect(refused(PLAIN_DESIGN.make, { factors: three.slice(0, 2), kind: 'box_behnken' })).toEqual([
      'A design of kind box_behnken takes 3 to 5 factors; there are 2.',
    ]);
    const bounds = ['fine', 'coarse'].map((name) => ({ name, low: 0.6, high: 0.9 }));
    expect(refused(PLAIN_DESIGN.make, { factors: bounds, kind: 'mixture_lattice' })).toEqual([
      'No mixture fits these bounds: the lowest shares sum to 1.2, the highest to 1.8; 1 must lie between.',
    ]);
    const mixed = { factors: bounds.map((f) => ({ ...f, low: 0 })), model: 'mixture_linear' };
    const results = [
      { levels: [0.5, 0.6], value: 1 },
      { levels: [0.5, 0.5], value: 2 },
    ];
    expect(refused(PLAIN_DESIGN.analyse, { ...mixed, results })).toEqual([
      'Results, row 1: levels: the shares sum to 1.1; they must sum to 1.',
    ]);
    expect(
      refused(PLAIN_NEXT.pair, {
        factors: [{ name: 'grind', low: 1, high: 2 }],
        tried: [{ levels: [1] }, { levels: [2], value: 3 }],
        preferred: [
          { better: 2, worse: 2 },
          { better: 9, worse: 2 },
        ],
        budget: { grams: 100, dose_g: 16 },
      }),
    ).toEqual([
      'Preferred, row 2: better is 9; it must be the place of a brew, 1 to 2.',
      'Preferred, row 1: brew 2 is set against itself; two different brews are needed.',
      'Tried, row 1: brew 1 has no value and is in no blind choice; give it a value, or leave it out.',
    ]);
  });
  it('makes every kind of set, as large as it says', () => {
    const factors = (count: number) =>
      Array.from({ length: count }, (_, i) => ({ name: `f${i + 1}`, low: 0, high: 1 }));
    const runs = (input: object) => {
      const found = PLAIN_DESIGN.make.answer(input);
      if (!found.ok) throw new Error(found.problems[0]!.sentence);
      return (found.value.figures.runs as unknown[]).length;
    };
    expect(runs({ factors: factors(3), kind: 'full_factorial' })).toBe(11);
    expect(runs({ factors: factors(5), kind: 'fractional_factorial', runs: 16, centres: 0 })).toBe(16);
    expect(runs({ factors: factors(7), kind: 'screening_12', centres: 0 })).toBe(12);
    expect(runs({ factors: factors(4), kind: 'central_composite', star: 'faced' })).toBe(27);
    expect(runs({ factors: factors(4), kind: 'box_behnken' })).toBe(27);
    expect(runs({ factors: factors(6), kind: 'definitive_screening', centres: 1 })).toBe(13);
    expect(runs({ factors: factors(3), kind: 'mixture_lattice', lattice: 3 })).toBe(10);
    expect(runs({ factors: factors(4), kind: 'mixture_centroid' })).toBe(15);
    expect(runs({ factors: factors(3), kind: 'd_optimal', runs: 12 })).toBe(12);
  });
  it('mixes grinds within bounds: shares sum to 1 and stay between them', () => {
    const factors = [
      { name: 'fine', low: 0.1, high: 0.4 },
      { name: 'middle', low: 0.2, high: 0.7 },
      { name: 'coarse', low: 0.1, high: 0.6 },
    ];
    const found = PLAIN_DESIGN.make.answer({
      factors,
      kind: 'd_optimal',
      model: 'mixture_quadratic',
      runs: 9,
    });
    if (!found.ok) throw new Error(found.problems[0]!.sentence);
    for (const run of found.value.figures.runs as Record<string, number>[]) {
      expect(run.fine! + run.middle! + run.coarse!).toBeCloseTo(1, 9);
      for (const { name, low, high } of factors) {
        expect(run[name]).toBeGreaterThanOrEqual(low - 1e-9);
        expect(run[name]).toBeLessThanOrEqual(high + 1e-9);
      }
    }
  });
});
