import { describe, expect, it } from 'vitest';
import { DENSITY_25, pureWater } from './composition.ts';
import type { WaterOrder } from './order.ts';
import { quantityOf } from './quantities.ts';
import { type SolvedWaters, solveWaters } from './solve-waters.ts';
import { millimoles } from './testing/millimoles.ts';
import { aim, concentrate, eightJars, jar, order, residual } from './testing/orders.ts';

const one = (more: Partial<WaterOrder>, targets: WaterOrder['waters'][0]['targets'], batch_g = 1000) =>
  solveWaters(order({ waters: [{ id: 'w', name: 'Water', batch_g, targets, poured_g: null }], ...more }));
const grams = (solved: SolvedWaters, w = 0) =>
  Object.fromEntries(solved.sheets[w]!.doses.map(({ item_id, grams: g }) => [item_id, g]));
const said = (solved: SolvedWaters) => [...solved.remarks, ...solved.sheets.flatMap((s) => s.remarks)];
const codes = (solved: SolvedWaters) => said(solved).map(({ code }) => code);

describe('two waters from one residual and two concentrates, worked by hand', () => {
  // 10 000 mg/L as CaCO3 each: (90 − 8)/10 × 1.5 = 12.3 mL, (20 − 6)/10 × 1.5 = 2.1, (30 − 8)/10 × 1.5 = 3.3, (10 − 6)/10 × 1.5 = 0.6.
  const two = order({
    bases: [{ id: 'ro', name: 'purified water', of: residual(8, 6), price_per_L: null, uncertainty_pct: 5 }],
    concentrates: [
      concentrate({ salt: 'magnesium_sulfate', hydrate: 7 }, 24.6),
      concentrate({ salt: 'potassium_bicarbonate', hydrate: 0 }, 20),
    ],
    waters: [
      {
        id: 'a',
        name: 'A',
        batch_g: 1.5 * DENSITY_25,
        targets: [aim('hardness', 90), aim('alkalinity', 20)],
        poured_g: 180,
      },
      {
        id: 'b',
        name: 'B',
        batch_g: 1.5 * DENSITY_25,
        targets: [aim('hardness', 30), aim('alkalinity', 10)],
        poured_g: 70,
      },
    ],
  });
  const solved = solveWaters(two);
  it('gives the millilitres, in steps of the syringe', () => {
    const exact = solveWaters(two, { exact: true });
    const mL = (of: SolvedWaters) => of.sheets.flatMap(({ doses }) => doses.map((d) => d.mL!));
    [12.3, 2.1, 3.3, 0.6].forEach((expected, i) => {
      // By hand the water that a concentrate displaces is left out: 1 % of the residual.
      expect(Math.abs(mL(exact)[i]! - expected)).toBeLessThan(0.01 * expected);
      expect(Math.abs(mL(solved)[i]! * 10 - Math.round(mL(solved)[i]! * 10))).toBeLessThan(1e-9);
      expect(Math.abs(mL(solved)[i]! - expected)).toBeLessThanOrEqual(0.1 + 1e-9);
    });
  });
  it('makes 73.2 and 17.2 of all pours together', () => {
    const { quantities } = solveWaters(two, { exact: true }).composite!.figures;
    expect(Math.abs(quantities.hardness!.value - 73.2)).toBeLessThan(0.05);
    expect(Math.abs(quantities.alkalinity!.value - 17.2)).toBeLessThan(0.05);
  });
  it('warns that 0.6 mL is few steps of this syringe', () => {
    const few = solved.sheets[1]!.remarks.find(({ code }) => code === 'few_steps_of_liquid');
    expect(few?.sentence).toContain('0.6 mL');
    expect(few?.sentence).toContain('weaker');
  });
  it('shares the two bottles', () => {
    expect(solved.used).toHaveLength(2);
    for (const { waters } of solved.used) expect(waters).toEqual(['a', 'b']);
  });
});

describe('recipes worked by hand', () => {
  it('75 mg per kg: 29.40 mg CaCl2·2H2O, 36.97 mg MgSO4·7H2O, 35.04 mg KHCO3', () => {
    const c = millimoles({
      calcium: 0.2,
      chloride: 0.4,
      magnesium: 0.15,
      sulfate: 0.15,
      potassium: 0.35,
      alkalinity: 0.35,
    });
    const of = ['calcium', 'magnesium', 'potassium', 'chloride', 'sulfate', 'alkalinity'] as const;
    const solved = solveWaters(
      order({
        jars: eightJars(),
        waters: [
          {
            id: 'w',
            name: 'W',
            batch_g: 1000,
            targets: of.map((q) => aim(q, quantityOf(q, c))),
            poured_g: null,
          },
        ],
      }),
      { exact: true, perItem: 1e-4 },
    );
    const found = grams(solved);
    expect(found['calcium_chloride-2']! * 1000).toBeCloseTo(29.4, 1);
    expect(found['magnesium_sulfate-7']! * 1000).toBeCloseTo(36.97, 1);
    expect(found['potassium_bicarbonate-0']! * 1000).toBeCloseTo(35.04, 1);
    expect(Object.keys(found)).toHaveLength(3);
  });
  it('does not depend on the order of the jars', () => {
    const targets = [
      aim('calcium', 8),
      aim('magnesium', 4),
      aim('alkalinity', 18),
      aim('sulfate', 16),
      aim('sodium', 0),
    ];
    const waters = [{ id: 'w', name: 'W', batch_g: 1000, targets, poured_g: null }];
    const a = solveWaters(order({ waters, jars: eightJars() }), { exact: true });
    const b = solveWaters(order({ waters, jars: eightJars().reverse() }), { exact: true });
    const found = grams(a);
    expect(Object.keys(grams(b)).sort()).toEqual(Object.keys(found).sort());
    for (const [id, g] of Object.entries(grams(b))) expect(g).toBeCloseTo(found[id]!, 9);
  });
  it('blends a tap with purified water, and says which ion cannot be left out', () => {
    const tap = millimoles({ calcium: 2, magnesium: 0.5, alkalinity: 3, sodium: 1, chloride: 1, sulfate: 1 });
    const bases = [
      { id: 'tap', name: 'tap water', of: tap, price_per_L: 0.002, uncertainty_pct: 5 },
      { id: 'ro', name: 'purified water', of: pureWater(), price_per_L: 0.1, uncertainty_pct: 0 },
    ];
    const allowed = aim('sulfate', 0, { aim: null, high: 30 });
    const solved = one({ bases }, [aim('hardness', 70), allowed], 2000);
    expect(solved.sheets[0]!.main.base_id).toBe('ro');
    // 70 of 249.5 mg/L: 561 g of 2000.
    expect(Math.abs(grams(solved).tap! - 561)).toBeLessThanOrEqual(2);
    expect(solved.sheets[0]!.main.grams + grams(solved).tap!).toBeCloseTo(2000, 6);
    expect(solved.sheets[0]!.price).toBeCloseTo(0.1 * 1.439 + 0.002 * 0.561, 3);
    const free = one({ bases }, [aim('hardness', 70), aim('sulfate', 0)], 2000);
    const why = said(free).find(({ code }) => code === 'tied')?.sentence;
    expect(why).toContain('tap water would bring more, but also brings sulfate, which is to stay near 0');
  });
  it('keeps a hard limit and says what it holds back', () => {
    const solved = one(
      { jars: [jar('calcium_chloride'), jar('sodium_bicarbonate')] },
      [aim('calcium', 40), aim('chloride', 0, { aim: null, high: 20, hard: true })],
      10_000,
    );
    const { targets, remarks } = solved.sheets[0]!;
    expect(targets[1]!.reached).toBeLessThanOrEqual(20.01);
    expect(targets[1]!.met).toBe(true);
    const sentence = remarks.find(({ code }) => code === 'held_by_limit')?.sentence;
    expect(sentence).toMatch(
      /^Water: calcium comes to 11\.3 mg\/L instead of 40, because chloride must stay at or below 20 mg\/L\.$/,
    );
  });
  it('meets a conductivity and ratios', () => {
    const solved = one(
      { jars: eightJars() },
      [
        aim('conductivity', 150),
        aim('chloride_to_sulfate', 1.5),
        aim('calcium_to_magnesium', 2),
        aim('alkalinity', 20),
      ],
      20_000,
    );
    for (const { met, of } of solved.sheets[0]!.targets) expect(met, of).toBe(true);
  });
  it('does not take more of a jar than there is', () => {
    const short = { ...jar('magnesium_sulfate'), amount_g: 1 };
    const solved = one({ jars: [short] }, [aim('magnesium', 30)], 10_000);
    expect(grams(solved)[short.id]).toBeLessThanOrEqual(1.0001);
    expect(codes(solved)).toContain('stock_short');
  });
  it('leaves a jar closed that does nothing for the targets, also when another water takes of it', () => {
    const salt = { ...jar('sodium_chloride'), amount_g: 300 };
    const targets = [aim('magnesium', 10)];
    const waters = [
      { id: 'a', name: 'A', batch_g: 2000, targets, poured_g: null },
      { id: 'b', name: 'B', batch_g: 2000, targets: [...targets, aim('sodium', 20)], poured_g: null },
    ];
    const solved = solveWaters(order({ jars: [jar('magnesium_sulfate'), salt], waters }));
    expect(grams(solved, 0)[salt.id]).toBeUndefined();
    expect(grams(solved, 1)[salt.id]).toBeCloseTo(0.1, 2);
  });
  it('gives drops where drops are the instrument', () => {
    const drops = concentrate({ salt: 'sodium_bicarbonate', hydrate: 0 }, 40, { given_by: 'drops' });
    const base = order({}).instruments;
    const solved = one(
      { concentrates: [drops], instruments: { ...base, drop: { mass_g: 0.051, scatter_pct: 4 } } },
      [aim('alkalinity', 40)],
    );
    const dose = solved.sheets[0]!.doses[0]!;
    expect(dose.step_words).toBe('a drop');
    expect(dose.grams).toBeCloseTo(dose.steps * 0.051, 12);
  });
  it('prefers the cheaper of two salts that do the same', () => {
    const cheap = { ...jar('potassium_bicarbonate'), price_per_kg: 5 };
    const dear = { ...jar('sodium_bicarbonate'), price_per_kg: 50 };
    expect(Object.keys(grams(one({ jars: [dear, cheap] }, [aim('alkalinity', 40)])))).toEqual([cheap.id]);
  });
});

describe('what cannot be meant or had', () => {
  const jars = eightJars();
  it.each([
    [
      'a negative figure',
      [aim('calcium', -5)],
      'target_negative',
      'Water: calcium is asked at -5 mg/L; no water holds less than 0. It is taken as 0 here.',
    ],
    [
      '5 g/L',
      [aim('sodium', 5000)],
      'target_beyond',
      'Water: sodium is asked at 5000 mg/L; this computes brewing waters up to 2000 mg/L. 2000 is taken here.',
    ],
    [
      'no number',
      [aim('sodium', Number.NaN)],
      'target_not_a_number',
      'Water: sodium is asked at NaN; it must be a number. It is left out here.',
    ],
    [
      'crossed ends',
      [aim('sodium', 5, { aim: null, low: 9, high: 3 })],
      'target_range_crossed',
      'Water: the lowest sodium, 9 mg/L, is above the highest, 3 mg/L. The middle of both is taken here.',
    ],
    [
      'an aim outside its range',
      [aim('sodium', 5, { low: 8, high: 9 })],
      'target_aim_outside',
      'Water: sodium is asked at 5 mg/L, outside its own range of 8 to 9. The nearest end is taken here.',
    ],
    [
      'one thing twice',
      [aim('sodium', 5), aim('sodium', 6)],
      'target_twice',
      'Water: sodium is asked twice. Only the first counts.',
    ],
    [
      'calcium and no anion',
      [
        aim('calcium', 40),
        ...(['chloride', 'sulfate', 'alkalinity', 'nitrate'] as const).map((q) => aim(q, 0)),
      ],
      'charges_apart_metals',
      'Water: the targets fix 2 meq/L of positive charge and 0 of negative. No water is like that: for each positive ion it holds a negative one. Raise chloride, sulfate or alkalinity, or ask for less of the metals.',
    ],
    [
      'a hardness that is not its parts',
      [aim('calcium', 40), aim('magnesium', 0), aim('hardness', 50)],
      'hardness_apart',
      'Water: calcium 40 and magnesium 0 mg/L make a hardness of 99.9 mg/L as CaCO3, not 50. They cannot all be met.',
    ],
  ] as const)('%s', (_, targets, code, sentence) => {
    const solved = one({ jars }, targets);
    expect(said(solved).find((remark) => remark.code === code)?.sentence).toBe(sentence);
    expect(Number.isFinite(solved.sheets[0]!.figures.pH.value)).toBe(true);
  });
  it('an empty shelf gives the water as it is', () => {
    const solved = one({ bases: [] }, [aim('calcium', 20)]);
    expect(codes(solved)).toEqual(['no_base', 'no_salts', 'nothing_brings']);
    expect(solved.sheets[0]!.main.grams).toBe(1000);
  });
  it('a base that already has too much is named', () => {
    const bases = [
      { id: 'tap', name: 'tap water', of: residual(200, 100), price_per_L: null, uncertainty_pct: 0 },
    ];
    const solved = one({ bases, jars }, [aim('hardness', 50)]);
    const sentence = said(solved).find(({ code }) => code === 'nothing_takes')?.sentence;
    expect(sentence).toContain('tap water brings it already');
  });
  it('no waters, a batch of nothing, targets without figures', () => {
    expect(codes(solveWaters(order({ jars })))).toContain('no_waters_wanted');
    expect(codes(one({ jars }, [aim('sodium', 5)], 0))).toContain('batch_bad');
    expect(codes(one({ jars }, [{ ...aim('sodium', 0), aim: null }]))).toContain('target_empty');
  });
  it('a dose below half a step is said', () => {
    const solved = one({ jars: [jar('magnesium_sulfate')] }, [aim('magnesium', 1, { weight: 4 })], 50);
    expect(codes(solved)).toContain('dose_vanishes');
  });
  it('changes nothing of what was given', () => {
    const given = order({
      jars,
      waters: [{ id: 'w', name: 'W', batch_g: 0, targets: [aim('calcium', -5)], poured_g: 5 }],
    });
    const before = JSON.stringify(given);
    solveWaters(given);
    expect(JSON.stringify(given)).toBe(before);
  });
});
