import { describe, expect, it } from 'vitest';
import kcl from '../../../reference/conductivity-kcl/check-values.json' with { type: 'json' };
import data from '../../../reference/meter-scales/check-values.json' with { type: 'json' };
import { liquidDensity } from '../units/index.ts';
import { conductivity, MICROSIEMENS_PER_CM } from './conductivity.ts';
import {
  compensated,
  expectedReading,
  iso7888,
  judgeReading,
  offScale,
  onScale,
  USUAL_METER,
} from './meter.ts';
import { speciate } from './speciate.ts';
import { millimoles } from './testing/millimoles.ts';

const kappa = (of: Parameters<typeof millimoles>[0], temperature_C = 25) =>
  MICROSIEMENS_PER_CM *
  conductivity(speciate(millimoles(of), { temperature_C, carbon: { by: 'total', carbon: 0 } }));
/** Molality of a dilute solution by its molarity; the salt's own volume is left out (0.3 % at 0.1 mol/L). */
const perKg = (mol_L: number) => (1e6 * mol_L) / liquidDensity(298.15);

describe('conductivity of salts', () => {
  it.each(kcl.KCl_mol_L)('KCl $mol_L mol/L, Standard Methods 2510', ({ mol_L, conductivity: expected }) => {
    const found = kappa({ potassium: perKg(mol_L), chloride: perKg(mol_L) });
    expect(Math.abs(found / expected - 1)).toBeLessThanOrEqual(0.015);
  });
  it.each(kcl.KCl_mol_kg)(
    'KCl 0.01 mol/kg at $celsius °C, CRC Handbook',
    ({ celsius, conductivity: expected }) => {
      const found = kappa({ potassium: 10, chloride: 10 }, celsius);
      expect(Math.abs(found / expected - 1)).toBeLessThanOrEqual(0.015);
    },
  );
  it.each(kcl.equivalent)('$salt at $eq_L eq/L, from memory of the CRC Handbook', ({ salt, eq_L, value }) => {
    const eq = perKg(eq_L);
    const of =
      salt === 'NaCl' ? { sodium: eq } : salt === 'CaCl2' ? { calcium: eq / 2 } : { magnesium: eq / 2 };
    const found = kappa({ ...of, chloride: eq }) / (1000 * eq_L);
    expect(Math.abs(found / value - 1)).toBeLessThanOrEqual(0.015);
  });
});

describe('scales of meters', () => {
  it.each(data.scales)('$uS_cm µS/cm', (row) => {
    for (const by of ['KCl', 'NaCl', '442'] as const) {
      expect(onScale(row.uS_cm, { by })).toBeCloseTo(row[by], 9);
      expect(offScale(row[by], { by })).toBeCloseTo(row.uS_cm, 6);
    }
  });
  it('150 µS/cm is 75 at 0.5 and 105 at 0.7', () => {
    expect(onScale(150, { by: 'factor', factor: 0.5 })).toBe(75);
    expect(onScale(150, { by: 'factor', factor: 0.7 })).toBeCloseTo(105, 12);
  });
  it('every scale has an inverse between 1 and 5000 µS/cm', () => {
    for (const by of ['KCl', 'NaCl', '442'] as const)
      for (let k = 1; k < 5000; k *= 1.3) expect(offScale(onScale(k, { by }), { by })).toBeCloseTo(k, 6);
  });
});

describe('compensation, ISO 7888', () => {
  it.each(data.iso7888)('%s °C: %s', (celsius, factor) => {
    expect(iso7888(celsius!)).toBe(factor);
    expect(compensated(100, celsius!, { by: 'iso7888' })).toBeCloseTo(100 * factor!, 9);
  });
  it('refuses hot water, where it is not defined', () => {
    expect(iso7888(36.5)).toBeNaN();
    expect(compensated(100, 93, { by: 'linear', per_K: 0.02 })).toBeNaN();
  });
});

describe('what a meter will say', () => {
  const soft = speciate(
    millimoles({
      calcium: 0.2,
      chloride: 0.4,
      magnesium: 0.15,
      sulfate: 0.15,
      potassium: 0.35,
      alkalinity: 0.35,
    }),
    { temperature_C: 25, carbon: 'air' },
  );
  it('of 126 µS/cm (PHREEQC): 63 at 0.5 and 88 at 0.7, within 3 %', () => {
    const read = (factor: number) =>
      expectedReading(soft, { ...USUAL_METER, scale: { by: 'factor', factor } }).reading!.value;
    expect(Math.abs(read(0.5) / 63 - 1)).toBeLessThan(0.03);
    expect(Math.abs(read(0.7) / 88 - 1)).toBeLessThan(0.03);
  });
  it('takes a reading near it and flags one further off than 6 %', () => {
    const expected = expectedReading(soft);
    const { value } = expected.reading!;
    expect(judgeReading(expected, value)).toBe('as expected');
    expect(judgeReading(expected, value * 1.05)).toBe('as expected');
    expect(judgeReading(expected, value * 1.15)).toBe('too high');
    expect(judgeReading(expected, value * 0.85)).toBe('too low');
  });
  it('says nothing of hot water', () => {
    const hot = expectedReading(soft, USUAL_METER, 93);
    expect(hot.reading).toBeNull();
    expect(judgeReading(hot, 60)).toBe('too hot to read');
    expect(hot.conductivity_uS_cm).toBeGreaterThan(250);
  });
  it('reads a cold sample as one at 25 °C, to what 2 % per kelvin is worth', () => {
    const cold = expectedReading(soft, USUAL_METER, 18).reading!.value;
    expect(Math.abs(cold / expectedReading(soft).reading!.value - 1)).toBeLessThan(0.03);
  });
});
