import { describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

const order = (more = {}) =>
  JSON.stringify({
    waters: [
      {
        name: 'A',
        batch_g: 1500,
        poured_g: 180,
        targets: [
          { of: 'hardness', aim: 90 },
          { of: 'alkalinity', aim: 20 },
        ],
      },
      {
        name: 'B',
        batch_g: 1500,
        poured_g: 70,
        targets: [
          { of: 'hardness', aim: 30 },
          { of: 'alkalinity', aim: 10 },
        ],
      },
    ],
    salts: [
      { salt: 'magnesium_sulfate', hydrate: 7 },
      { salt: 'potassium_bicarbonate', hydrate: 0 },
    ],
    ...more,
  });

describe('water', { timeout: 60_000 }, () => {
  test('solve writes sheets with doses, steps, what the meter should show and cautions', async () => {
    const { code, out, err } = await pourline(['water', 'solve', '-'], order());
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^magnesium sulfate, 7 H2O +0\.33 g/m);
    expect(out).toMatch(/^1\. Check each packet/m);
    expect(out).toMatch(/the meter should show \d+ to \d+ ppm/);
    expect(out).toMatch(/All pours together \(250 g\): hardness 7[234]\.\d/);
    expect(out).toContain('never drunk');
    expect(out).not.toMatch(/NaN|undefined/);
  });
  test('solve gives everything as JSON, with mistakes and bottles', async () => {
    const { code, out } = await pourline(['water', 'solve', '-', '--bottles', 'syringe', '--json'], order());
    expect(code).toBe(0);
    const { sheets, concentrates } = JSON.parse(out);
    expect(concentrates).toHaveLength(2);
    expect(sheets[0].doses[0].mL).toBeGreaterThan(2);
    expect(sheets[0].mistakes.map((m: { kind: string }) => m.kind)).toContain('wrong_hydrate');
    expect(sheets[0].ions.magnesium_mg_L).toBeCloseTo(21.9, 0);
  });
  test('solve says what is wrong with an order, by its place', async () => {
    const { code, err } = await pourline(
      ['water', 'solve', '-'],
      order({ salts: [{ salt: 'sugar', hydrate: 1 }] }),
    );
    expect(code).toBe(1);
    expect(err).toContain('Salts, row 1: salt is "sugar"; it must be one of: magnesium_sulfate');
  });
  test('speciate closes a label, heats it and finds scale', async () => {
    const tap = {
      calcium_mg_L: 80,
      magnesium_mg_L: 12,
      sodium_mg_L: 15,
      bicarbonate_mg_L: 244,
      chloride_mg_L: 22,
      sulfate_mg_L: 48,
    };
    const run = async (...args: string[]) =>
      JSON.parse(
        (await pourline(['water', 'speciate', '-', ...args], JSON.stringify({ ...tap, pH: 7.3 }))).out,
      );
    const cold = await run();
    expect(cold.pH).toBeCloseTo(7.3, 9);
    const hot = await run('--at', '93', '--closed');
    expect(hot.calcite_index).toBeGreaterThan(0.3);
    expect(hot.calcite_index_doubt).toBeCloseTo(0.3, 1);
    expect(cold.ppm).toHaveLength(8);
  });
  test('speciate refuses a pH that cannot be, and values that are none', async () => {
    const weak = JSON.stringify({ sodium_mg_L: 2, bicarbonate_mg_L: 5 });
    const high = await pourline(['water', 'speciate', '-', '--ph', '11.8'], weak);
    expect(high.code).toBe(1);
    expect(high.err).toContain('A pH of 11.8 cannot go with this alkalinity');
    const wrong = await pourline(['water', 'speciate', '-'], JSON.stringify({ calcium_mg_L: -4 }));
    expect(wrong.code).toBe(1);
    expect(wrong.out).toContain('Calcium is -4 mg/L; it must be at least 0 mg/L.');
    expect((await pourline(['water', 'speciate', '-', '--at', '120'], weak)).code).toBe(2);
  });
  test('mix solves the pH again', async () => {
    const parts = [
      { mass_g: 25, water: { calcium_mg_L: 104, bicarbonate_mg_L: 305, chloride_mg_L: 7, pH: 7.3 } },
      { mass_g: 75, water: {} },
    ];
    const { code, out } = await pourline(['water', 'mix', '-'], JSON.stringify({ parts }));
    expect(code).toBe(0);
    const mixed = JSON.parse(out);
    expect(mixed.alkalinity_meq_kg).toBeCloseTo(1.253, 2);
    expect(mixed.pH).toBeGreaterThan(8);
  });
  test('convert knows hardness and ions, and says which units there are', async () => {
    const dH = await pourline(['water', 'convert', '1', 'dH', 'mg_L_CaCO3']);
    expect(JSON.parse(dH.out).value).toBeCloseTo(17.848, 3);
    const ion = await pourline(['water', 'convert', '1', 'mg_L', 'mg_L_CaCO3', '--ion', 'calcium']);
    expect(JSON.parse(ion.out).value).toBeCloseTo(2.4973, 4);
    const wrong = await pourline(['water', 'convert', '1', 'dH', 'stones']);
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain('There is no unit "stones" here.');
  });
});

describe('check', { timeout: 60_000 }, () => {
  test('says when a mix points to a salt that is not there', async () => {
    const uuid = (n: number) => `0190a5d2-7c3e-7b10-8f00-00000000000${n}`;
    const common = { version: 1, campaign_id: uuid(1) };
    const documents = [
      { kind: 'campaign', ...common, id: uuid(1), name: 'Spring' },
      {
        kind: 'mix',
        ...common,
        id: uuid(2),
        name: 'One water',
        waters: [{ id: 'a', name: 'A', targets: [{ of: 'hardness', aim: 50 }] }],
        salt_ids: [uuid(3)],
      },
    ];
    const archive = JSON.stringify({ format: 'pourline-archive', version: 1, documents });
    const { code, err } = await pourline(['check', '-'], archive);
    expect(code).toBe(1);
    expect(err).toContain('points to a salt that is not in this campaign');
    const solve = await pourline(['water', 'solve', '-'], archive.replace(`["${uuid(3)}"]`, '[]'));
    expect(solve.code).toBe(0);
    expect(solve.out).toContain('There is neither a salt nor a concentrate on the shelf');
  });
});
