import { describe, expect, it } from 'vitest';
import { checkConcentrate } from './concentrates.ts';
import { checkLabel } from './label.ts';
import { mistakesOf } from './mistakes.ts';
import { QUANTITIES } from './quantities.ts';
import { type WaterRemark, waterRemark, waterSentences } from './remarks.ts';
import { formulaOf, SALT_NAMES, SALTS } from './salts.ts';
import { solveWaters } from './solve-waters.ts';
import { waterTerms } from './terms.ts';
import { aim, concentrate, eightJars, jar, order, residual } from './testing/orders.ts';

/** Names that people give, as they stand in the orders below. */
const NAMES = [
  'Water',
  'RO',
  'tap',
  'Spring',
  'Bottle',
  'purified water',
  'concentrate of sodium bicarbonate',
  'concentrate of magnesium sulfate',
];

/** Remarks of as many kinds as a few orders, bottles, labels and mistakes give. */
function many(): WaterRemark[] {
  const { instruments } = order({});
  const drops = concentrate({ salt: 'sodium_bicarbonate', hydrate: 0 }, 40, { given_by: 'drops' });
  const bottle = concentrate({ salt: 'magnesium_sulfate', hydrate: 7 }, 24.6);
  const base = (name: string, hardness: number) => [
    { id: name, name, of: residual(hardness, hardness / 2), price_per_L: null, uncertainty_pct: 0 },
  ];
  const orders = [
    [
      {},
      [aim('calcium', -5), aim('sodium', 5000), aim('sodium', 2), aim('potassium', 5, { low: 9, high: 3 })],
    ],
    [{ bases: [] }, [aim('calcium', 20), aim('chloride_to_sulfate', 2)]],
    [{ bases: base('tap', 200), jars: eightJars() }, [aim('hardness', 50), aim('sulfate', 400)]],
    [{ bases: base('RO', 600), jars: eightJars() }, [aim('alkalinity', 400), aim('calcium', 200)]],
    [
      { jars: [jar('calcium_chloride'), jar('sodium_bicarbonate')] },
      [aim('calcium', 40), aim('chloride', 0, { aim: null, high: 20, hard: true }), aim('alkalinity', 0)],
    ],
    [{ jars: [jar('magnesium_sulfate')] }, [aim('magnesium', 1)]],
    [
      { jars: eightJars() },
      [
        aim('calcium', 40),
        ...(['chloride', 'sulfate', 'alkalinity', 'nitrate'] as const).map((of) => aim(of, 0)),
      ],
    ],
    [
      { jars: eightJars() },
      [aim('alkalinity', 40), ...(['hardness', 'sodium', 'potassium'] as const).map((of) => aim(of, 0))],
    ],
    [
      {
        concentrates: [drops, bottle],
        instruments: { ...instruments, drop: { mass_g: 0.05, scatter_pct: 8 } },
      },
      [aim('alkalinity', 4), aim('hardness', 6)],
    ],
  ] as const;
  const solved = orders.flatMap(([more, targets]) => {
    const given = order({
      ...more,
      waters: [{ id: 'w', name: 'Water', batch_g: 1000, targets, poured_g: null }],
    });
    const { remarks, sheets } = solveWaters(given);
    return [
      ...remarks,
      ...sheets.flatMap((sheet) => [
        ...sheet.remarks,
        ...mistakesOf(given, sheet).map(({ remark }) => remark),
      ]),
    ];
  });
  const parts = (salt: 'calcium_chloride' | 'sodium_bicarbonate', grams: number) => ({
    form: { salt, hydrate: 0 },
    grams,
  });
  const bottles = [
    [parts('calcium_chloride', 10), parts('sodium_bicarbonate', 10)],
    [parts('sodium_bicarbonate', 120)],
  ].flatMap((of) => checkConcentrate({ name: 'Bottle', parts: of, water_g: 1000 }));
  const ions = { calcium_mg_L: 80, magnesium_mg_L: 12, sodium_mg_L: 15, bicarbonate_mg_L: 244 };
  const labels = [
    { name: 'Spring', ions, hardness: 14, alkalinity: 244, residue: 30, conductivity: 2000 },
    {
      name: 'Spring',
      ions: { ...ions, calcium_mg_L: 240, bicarbonate_mg_L: 300, chloride_mg_L: 22, sulfate_mg_L: 48 },
    },
  ].flatMap((label) => checkLabel(label).remarks);
  return [...solved, ...bottles, ...labels];
}

describe('remarks can be said in another language', () => {
  const remarks = many();

  it('is tried on many of them', () => {
    expect(new Set(remarks.map(({ code }) => code)).size).toBeGreaterThan(25);
  });

  it('because every value is a figure, a unit, a formula, a name somebody gave, or a term with a code', () => {
    const units = new Set(Object.values(QUANTITIES).map((unit) => (unit ? ` ${unit}` : '')));
    const formulas = new Set(
      SALT_NAMES.flatMap((salt) => SALTS[salt].hydrates.map((hydrate) => formulaOf({ salt, hydrate }))),
    );
    for (const { code, values, terms = {} } of remarks)
      for (const [name, value] of Object.entries(values)) {
        const text = String(value);
        const neutral =
          /^[+-]?[\d.]+( \+ [\d.]+)*( (g|mL))?$/.test(text) ||
          units.has(text) ||
          ['ppm', 'µS/cm'].includes(text) ||
          formulas.has(text);
        const named = NAMES.includes(text) || eightJars().some((j) => j.name === text);
        expect(neutral || named || name in terms, `${code}: ${name} is "${text}"`).toBe(true);
      }
  });

  it('and every term has English of its own, which stands in the sentence', () => {
    for (const { terms = {}, values, sentence, code } of remarks)
      for (const [name, list] of Object.entries(terms)) {
        const english = list.map((term) => waterTerms[term]).join(' and ');
        expect(values[name], code).toBe(english);
        if (waterSentences[code]!.includes(`{${name}}`))
          expect(sentence.toLowerCase()).toContain(english.toLowerCase());
      }
  });

  it('and no sentence is left with a gap', () => {
    for (const { sentence } of remarks) expect(sentence).not.toMatch(/[{}]|undefined/);
  });

  it('has no sentence for a code nobody knows', () => {
    expect(() => waterRemark('note', 'no_such_code', '', {})).toThrow('no_such_code');
  });
});
