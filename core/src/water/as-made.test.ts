import { describe, expect, it } from 'vitest';
import { asMade } from './as-made.ts';
import { conductivity25 } from './conductivity.ts';
import { makingSteps } from './making-steps.ts';
import { onScale } from './meter.ts';
import { readMeter } from './read-meter.ts';
import { solveWaters } from './solve-waters.ts';
import { speciate } from './speciate.ts';
import { aim, concentrate, jar, order } from './testing/orders.ts';

const hard = concentrate({ salt: 'magnesium_sulfate', hydrate: 7 }, 24.6);
const soft = concentrate({ salt: 'potassium_bicarbonate', hydrate: 0 }, 20);
const given = order({
  concentrates: [hard, soft],
  waters: [
    {
      id: 'a',
      name: 'A',
      batch_g: 1500,
      targets: [aim('hardness', 90), aim('alkalinity', 40)],
      poured_g: 180,
    },
  ],
});
const sheet = solveWaters(given).sheets[0]!;
const gramsOf = (id: string) => sheet.doses.find(({ item_id }) => item_id === id)!.grams;
const value = (of: typeof sheet, name: 'hardness' | 'alkalinity') => of.figures.quantities[name]!.value;

describe('a water as it was made', () => {
  it('is the sheet itself when everything went in as asked', () => {
    const same = asMade(given, sheet, {});
    for (const [name, amount] of Object.entries(sheet.composition))
      expect(Math.abs(same.composition[name as 'calcium'] - amount)).toBeLessThan(1e-15);
    same.doses.forEach(({ item_id, grams, exact_g }, i) => {
      expect(item_id).toBe(sheet.doses[i]!.item_id);
      expect(grams).toBeCloseTo(sheet.doses[i]!.grams, 12);
      expect(exact_g).toBeCloseTo(sheet.doses[i]!.grams, 12);
    });
    expect(same.reading.accept!.low).toBeCloseTo(sheet.reading.accept!.low, 9);
  });
  it('follows a dose that came out larger, in proportion', () => {
    const more = asMade(given, sheet, { [hard.id]: 1.1 * gramsOf(hard.id) });
    expect(value(more, 'hardness')).toBeCloseTo(1.1 * value(sheet, 'hardness'), 9);
    expect(value(more, 'alkalinity')).toBeCloseTo(value(sheet, 'alkalinity'), 9);
    expect(more.targets.find(({ of }) => of === 'hardness')!.met).toBe(false);
    expect(more.main.grams).toBeCloseTo(sheet.main.grams - 0.1 * gramsOf(hard.id), 9);
  });
  it('is the same water again when all of it is made larger by the dose that ran over', () => {
    const over = 1.25;
    const all = Object.fromEntries(sheet.doses.map(({ item_id, grams }) => [item_id, over * grams]));
    const larger = asMade(given, sheet, all, over * sheet.batch_g);
    for (const [name, amount] of Object.entries(sheet.composition))
      expect(Math.abs(larger.composition[name as 'calcium'] - amount)).toBeLessThan(1e-15);
  });
  it('leaves out what was not given', () => {
    const none = asMade(given, sheet, { [soft.id]: 0 });
    expect(value(none, 'alkalinity')).toBe(0);
    expect(none.doses.map(({ item_id }) => item_id)).toEqual([hard.id]);
  });
  it('refuses amounts that cannot be', () => {
    expect(() => asMade(given, sheet, { [soft.id]: -1 })).toThrow(/-1 g/);
    expect(() => asMade(given, sheet, {}, 0)).toThrow(RangeError);
    expect(() => asMade(given, sheet, { [soft.id]: Number.NaN })).toThrow(RangeError);
  });
});

describe('a reading', () => {
  const expected = sheet.reading.reading!.value;
  const mistaken = (grams: Record<string, number>) => asMade(given, sheet, grams).reading.reading!.value;

  it('as expected is taken, with the mistakes that it cannot rule out', () => {
    const read = readMeter(given, sheet, expected, 25);
    expect(read.verdict).toBe('as expected');
    expect(read.scales).toEqual([]);
    expect(read.expected.accept!.low).toBeLessThan(expected);
    for (const { verdict } of read.mistakes) expect(verdict).toBe('as expected');
  });
  it('of a water without its buffer names that first', () => {
    const read = readMeter(given, sheet, mistaken({ [soft.id]: 0 }), 25);
    expect(read.verdict).toBe('too low');
    expect(read.mistakes[0]!.kind).toBe('forgotten_dose');
    expect(read.mistakes[0]!.remark.values.source).toBe(soft.name);
  });
  it('of a water made from an anhydrous packet names the packet', () => {
    const read = readMeter(given, sheet, mistaken({ [hard.id]: 2.048 * gramsOf(hard.id) }), 25);
    expect(read.verdict).toBe('too high');
    const hydrate = read.mistakes.find(({ kind }) => kind === 'wrong_hydrate');
    expect(hydrate?.remark.values.packet).toBe('MgSO4');
  });
  it('on another scale is told from a mistake', () => {
    const kappa = conductivity25(speciate(sheet.composition, { temperature_C: 25, carbon: 'air' }));
    const read = readMeter(given, sheet, onScale(kappa, { by: 'factor', factor: 0.7 }), 25);
    expect(read.verdict).toBe('too high');
    expect(read.scales).toContainEqual({ by: 'factor', factor: 0.7 });
    expect(read.scales).not.toContainEqual({ by: 'factor', factor: 0.5 });
  });
  it('without compensation is found in a cold sample', () => {
    const at12 = readMeter(given, sheet, expected, 12);
    expect(at12.verdict).toBe('as expected');
    // Ions move about 2 % slower per kelvin: 13 K are a quarter.
    const bare = readMeter(given, sheet, 0.74 * expected, 12);
    expect(bare.verdict).toBe('too low');
    expect(bare.uncompensated).toBe(true);
  });
  it('of a hot sample is not judged', () => {
    const hot = readMeter(given, sheet, expected, 60);
    expect(hot.verdict).toBe('too hot to read');
    expect(hot.expected.accept).toBeNull();
    expect(hot.mistakes).toEqual([]);
  });
});

describe('steps at the table', () => {
  it('bring hardness before the buffer, one step a dose, and fill up last', () => {
    const steps = makingSteps(given, sheet);
    expect(steps.map(({ code }) => code)).toEqual([
      'check',
      'most_of_main',
      'add_hardness',
      'add_buffer',
      'fill',
      'measure',
      'label',
    ]);
    expect(steps.map(({ item_id }) => item_id).filter((id) => id !== null)).toEqual([hard.id, soft.id]);
    for (const { sentence } of steps) expect(sentence).not.toMatch(/[{}]|undefined|NaN/);
  });
  it('count drops', () => {
    const drops = concentrate({ salt: 'sodium_bicarbonate', hydrate: 0 }, 40, { given_by: 'drops' });
    const dropped = order({
      ...given,
      jars: [jar('magnesium_sulfate')],
      concentrates: [drops],
      instruments: { ...given.instruments, drop: { mass_g: 0.05, scatter_pct: 4 } },
    });
    const step = makingSteps(dropped, solveWaters(dropped).sheets[0]!).find(
      ({ item_id }) => item_id === drops.id,
    )!;
    expect(step.code).toBe('add_buffer_drops');
    expect(step.sentence).toMatch(/^Add \d+ drops of .* last, and mix\.$/);
  });
});
