import { describe, expect, it } from 'vitest';
import { IONS } from './basics.ts';
import { DENSITY_25 } from './composition.ts';
import { convertIon, ppmMeanings } from './convert.ts';
import { solveWithConcentrates } from './design-concentrates.ts';
import { checkLabel } from './label.ts';
import { mistakesOf } from './mistakes.ts';
import { solveWaters } from './solve-waters.ts';
import { millimoles } from './testing/millimoles.ts';
import { aim, concentrate, eightJars, jar, order, residual } from './testing/orders.ts';

describe('mistakes at the table', () => {
  const given = order({
    bases: [{ id: 'ro', name: 'purified water', of: residual(8, 6), price_per_L: null, uncertainty_pct: 0 }],
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
    ],
  });
  const solved = solveWaters(given, { exact: true });
  const mistakes = mistakesOf(given, solved.sheets[0]!);
  it('an anhydrous packet makes a hardness of about 176 instead of 90, 2.05 times the salt, and the meter finds it', () => {
    const wrong = mistakes.find(
      ({ kind, remark }) => kind === 'wrong_hydrate' && remark.values.packet === 'MgSO4',
    )!;
    expect(Math.abs(wrong.hardness - 176)).toBeLessThan(0.5);
    expect(wrong.remark.values.times).toBe('2.05');
    expect(wrong.verdict).toBe('too high');
    expect(wrong.remark.sentence).toMatch(
      /^A: if the packet of magnesium sulfate is really MgSO4 and not MgSO4·7H2O, 2\.05 times as much of it is dosed: hardness 176 mg\/L as CaCO3 instead of 90\. The meter would read \d+ instead of \d+(\.\d)? ppm and so find it\.$/,
    );
  });
  it('exchanged bottles and forgotten doses are computed', () => {
    const swapped = mistakes.find(({ kind }) => kind === 'swapped_bottles')!;
    expect(swapped.hardness).toBeLessThan(25);
    expect(swapped.alkalinity).toBeGreaterThan(80);
    expect(mistakes.filter(({ kind }) => kind === 'forgotten_dose')).toHaveLength(2);
  });
  it('what the meter cannot see comes first', () => {
    const seen = mistakes.map(({ verdict }) => verdict !== 'as expected');
    expect(seen).toEqual([...seen].sort((a, b) => Number(a) - Number(b)));
  });
});

describe('bottles designed for waters', () => {
  const given = order({
    jars: eightJars(),
    waters: [
      {
        id: 'a',
        name: 'A',
        batch_g: 1500,
        targets: [aim('hardness', 90), aim('alkalinity', 20)],
        poured_g: 180,
      },
      {
        id: 'b',
        name: 'B',
        batch_g: 1500,
        targets: [aim('hardness', 30), aim('alkalinity', 10)],
        poured_g: 70,
      },
    ],
  });
  const { concentrates, solved, straight } = solveWithConcentrates(given, {
    given_by: 'syringe',
    batches: 3,
    container_mL: 100,
  });
  it('are two, shared by both waters, and make doses surer than weighing straight in', () => {
    expect(concentrates).toHaveLength(2);
    const worst = (sheets: typeof solved.sheets) =>
      Math.max(...sheets.flatMap((s) => s.doses.map((d) => d.uncertainty)));
    expect(worst(solved.sheets)).toBeLessThan(worst(straight.sheets) / 2);
    for (const { waters } of solved.used) expect(waters).toHaveLength(2);
    for (const sheet of solved.sheets) for (const { met } of sheet.targets) expect(met).toBe(true);
  });
  it('hold enough for every batch, can be weighed, and stay clear', () => {
    for (const { concentrate: c, doses, recipe, remarks, bottles, volume_mL } of concentrates) {
      expect(c.amount_g!).toBeGreaterThan(3 * doses.reduce((sum, { grams }) => sum + grams, 0));
      for (const { mL } of doses) expect(mL).toBeGreaterThan(2);
      for (const { grams } of recipe.parts) expect(grams).toBeGreaterThan(0.8);
      expect(remarks.some(({ level }) => level === 'problem')).toBe(false);
      expect(bottles).toBe(Math.ceil(volume_mL / 100));
    }
  });
});

describe('salts that stay dissolved together only while weak', () => {
  it('get bottles of their own where one bottle would be too strong for both', () => {
    const { concentrates } = solveWithConcentrates(
      order({
        jars: [jar('magnesium_sulfate'), jar('potassium_bicarbonate')],
        waters: [
          {
            id: 'a',
            name: 'A',
            batch_g: 2000,
            targets: [aim('magnesium', 3.65), aim('alkalinity', 17.5)],
            poured_g: null,
          },
        ],
      }),
      { given_by: 'syringe', batches: 6, container_mL: 100 },
    );
    // Magnesium and bicarbonate stay together below about 50 mmol/kg each; a dose of 2.5 mL asks for twice that.
    expect(concentrates.map(({ recipe }) => recipe.parts.length)).toEqual([1, 1]);
    const codes = concentrates.flatMap(({ remarks }) => remarks.map(({ code }) => code));
    expect(codes).not.toContain('may_precipitate');
    expect(codes).not.toContain('will_precipitate');
  });
});

describe('a label held against itself', () => {
  const tap = {
    calcium_mg_L: 80,
    magnesium_mg_L: 12,
    sodium_mg_L: 15,
    potassium_mg_L: 2,
    bicarbonate_mg_L: 244,
    chloride_mg_L: 22,
    sulfate_mg_L: 48,
    nitrate_mg_L: 0,
  };
  it('says nothing of one that balances', () => {
    const found = checkLabel({ name: 'Spring', ions: tap, pH: 7.4, hardness: 249, alkalinity: 200 });
    expect(Math.abs(found.imbalance_pct)).toBeLessThan(5);
    expect(found.remarks).toEqual([]);
  });
  it('proposes the ion that is not on it', () => {
    const { sulfate_mg_L, ...ions } = { ...tap, sulfate_mg_L: 60 };
    const found = checkLabel({ name: 'Spring', ions });
    const missing = found.proposals.filter(({ by }) => by === 'missing');
    expect(missing.map(({ fields }) => fields[0])).toEqual(['sulfate_mg_L']);
    expect(Math.abs(missing[0]!.ions.sulfate_mg_L - sulfate_mg_L)).toBeLessThan(15);
    const codes = found.remarks.map(({ code }) => code);
    expect(codes[0]).toBe('label_imbalance');
    expect(codes).toContain('label_missing_ion');
  });
  it('finds calcium that counts as CaCO3', () => {
    const found = checkLabel({ name: 'Spring', ions: { ...tap, calcium_mg_L: 80 * 2.4973 } });
    const best = found.proposals.find(({ by }) => by === 'as_CaCO3')!;
    expect(best.fields).toEqual(['calcium_mg_L']);
    expect(best.ions.calcium_mg_L).toBeCloseTo(80, 2);
  });
  it.each([
    ['hardness in °dH', { hardness: 249 / 17.848 }, 'label_hardness_in_dH', '°dH'],
    ['hardness in °fH', { hardness: 24.9 }, 'label_hardness_in_fH', '°fH'],
    ['ions as CaCO3', { hardness: 99.8 }, 'label_hardness_ions_as_caco3', 'count as CaCO3'],
    ['calcium hardness alone', { hardness: 199.8 }, 'label_hardness_calcium_alone', 'calcium hardness alone'],
    ['a hardness from elsewhere', { hardness: 420 }, 'label_hardness', 'One of them is wrong'],
    ['bicarbonate for alkalinity', { alkalinity: 244 }, 'label_alkalinity_bicarbonate', 'bicarbonate itself'],
    ['alkalinity in °dH', { alkalinity: 200 / 17.848 }, 'label_alkalinity_in_dH', '°dH'],
    ['an alkalinity from elsewhere', { alkalinity: 90 }, 'label_alkalinity', 'One of them is wrong'],
    ['a conductivity far too high', { conductivity: 900 }, 'label_conductivity_above', 'missing'],
    ['a conductivity far too low', { conductivity: 300 }, 'label_conductivity_below', '20 °C'],
    ['a residue far too low', { residue: 150 }, 'label_residue_below', 'another unit'],
    ['a residue far too high', { residue: 700 }, 'label_residue_above', 'Silica'],
  ])('sees %s', (_, more, code, hint) => {
    const found = checkLabel({ name: 'Spring', ions: tap, ...more });
    expect(found.remarks.find((r) => r.code === code)?.sentence).toContain(hint);
  });
  it('sees a pH that its alkalinity cannot have', () => {
    const found = checkLabel({ name: 'Still', ions: { sodium_mg_L: 2.3, bicarbonate_mg_L: 6.1 }, pH: 11.5 });
    expect(found.remarks.map(({ code }) => code)).toContain('impossible_pH');
  });
});

describe('units', () => {
  it('convert there and back', () => {
    expect(convertIon(1, 'calcium_mg_L', 'mg_L', 'mg_L_CaCO3')).toBeCloseTo(2.4973, 4);
    expect(convertIon(1, 'magnesium_mg_L', 'mg_L', 'mg_L_CaCO3')).toBeCloseTo(4.1179, 4);
    expect(convertIon(1, 'bicarbonate_mg_L', 'mg_L', 'mg_L_CaCO3')).toBeCloseTo(0.82016, 4);
    expect(convertIon(96.06, 'sulfate_mg_L', 'mg_L', 'meq_L')).toBeCloseTo(
      2 * (96.06 / IONS.sulfate_mg_L.molarMass),
      12,
    );
    expect(
      convertIon(convertIon(7, 'sodium_mg_L', 'mg_L', 'meq_L'), 'sodium_mg_L', 'meq_L', 'mg_L'),
    ).toBeCloseTo(7, 12);
  });
  it('"ppm" of one water is at least five things', () => {
    // PHREEQC 3.7.3: 75.3 mg/kg of ions, 126 µS/cm, residue 64.4 mg.
    const soft = millimoles({
      calcium: 0.2,
      chloride: 0.4,
      magnesium: 0.15,
      sulfate: 0.15,
      potassium: 0.35,
      alkalinity: 0.35,
    });
    const of = Object.fromEntries(ppmMeanings(soft).map(({ meaning, value }) => [meaning, value]));
    expect(Math.abs(of['sum of ions']! - 75.3)).toBeLessThan(0.4);
    expect(Math.abs(of['dry residue']! - 64.4)).toBeLessThan(0.4);
    expect(Math.abs(of['meter, factor 0.5']! - 63)).toBeLessThan(2);
    expect(Math.abs(of['meter, factor 0.7']! - 88)).toBeLessThan(3);
    expect(Math.abs(of['hardness as CaCO3']! - 35)).toBeLessThan(0.2);
  });
});
