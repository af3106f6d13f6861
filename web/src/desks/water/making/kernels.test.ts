import { expectedReading, pureWater, speciate, type WeighSheet } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import {
  bandPlaces,
  dayAfter,
  daysAfter,
  givenOf,
  gramsOf,
  litresOf,
  overrun,
  stepKey,
  toggled,
  unitOfDose,
  withGiven,
} from './kernels.ts';

const dose = (more: Partial<WeighSheet['doses'][number]>): WeighSheet['doses'][number] => ({
  item_id: 'a',
  name: 'A',
  kind: 'jar',
  grams: 0.05,
  exact_g: 0.05,
  mL: null,
  steps: 5,
  step_g: 0.01,
  step_words: '0.01 g',
  uncertainty: 0.1,
  ...more,
});

describe('ticks', () => {
  it('go in and out, and a dose is known by its step and its item', () => {
    expect(stepKey({ code: 'fill', item_id: null })).toBe('fill');
    const key = stepKey({ code: 'add_buffer', item_id: 'b' });
    expect(toggled(toggled(['fill'], key), key)).toEqual(['fill']);
    expect(toggled(['fill'], key)).toEqual(['fill', 'add_buffer b']);
  });
});

describe('a dose in the unit of its instrument', () => {
  it('is grams on a balance, millilitres in a syringe, a count of drops', () => {
    expect(unitOfDose(dose({}))).toEqual({ unit: 'g', grams: 1, digits: 2 });
    const syringe = unitOfDose(dose({ grams: 10.2, mL: 10, step_g: 0.102, step_words: '0.1 mL' }));
    expect(syringe.unit).toBe('mL');
    expect(syringe.grams).toBeCloseTo(1.02, 12);
    expect(syringe.digits).toBe(1);
    expect(unitOfDose(dose({ step_g: 0.05, step_words: 'a drop' }))).toEqual({
      unit: 'drops',
      grams: 0.05,
      digits: 0,
    });
  });
});

describe('what was really given', () => {
  it('replaces what was said before, and nothing means as asked', () => {
    const first = [{ item_id: 'a', given_g: 3 }];
    expect(withGiven(first, 'a', 4)).toEqual([{ item_id: 'a', given_g: 4 }]);
    expect(withGiven(first, 'b', 'ten')).toEqual([...first, { item_id: 'b', given_g: 'ten' }]);
    expect(withGiven(first, 'a', null)).toEqual([]);
  });
  it('counts only where it is an amount', () => {
    expect(
      givenOf([
        { item_id: 'a', given_g: 3 },
        { item_id: 'b', given_g: -1 },
      ]),
    ).toEqual({ a: 3 });
  });
});

describe('a dose that ran over', () => {
  const sheet = {
    batch_g: 2000,
    doses: [dose({}), dose({ item_id: 'b', name: 'B', grams: 10 })],
  };
  it('is right for a larger batch, the worst one counts', () => {
    const found = overrun(sheet, { a: 0.055, b: 12 })!;
    expect(found.name).toBe('B');
    expect(found.percent).toBeCloseTo(20, 9);
    expect(found.batch_g).toBeCloseTo(2400, 9);
  });
  it('is let be below 2 %, and when it fell short', () => {
    expect(overrun(sheet, { b: 10.1 })).toBeNull();
    expect(overrun(sheet, { b: 8 })).toBeNull();
  });
});

describe('litres', () => {
  it('come back from grams at 25 °C as they were typed', () => {
    for (const litres of [0.25, 1, 1.5, 2, 3.785, 20]) expect(litresOf(gramsOf(litres))).toBe(litres);
    expect(gramsOf(1)).toBe(997);
  });
});

describe('the band of a meter', () => {
  const salted = { ...pureWater(), sodium: 2e-3, chloride: 2e-3 };
  const expected = expectedReading(speciate(salted, { temperature_C: 25, carbon: 'air' }));
  it('lies between its ends with what is expected inside it', () => {
    const places = bandPlaces(expected, expected.reading!.value)!;
    expect(places.low).toBeGreaterThan(0);
    expect(places.high).toBeLessThan(1);
    expect(places.expected).toBeGreaterThan(places.low);
    expect(places.expected).toBeLessThan(places.high);
    expect(places.shown).toBe(places.expected);
  });
  it('holds a reading far off at its ends', () => {
    expect(bandPlaces(expected, 5000)!.shown).toBe(1);
    expect(bandPlaces(expected, 0)!.shown).toBe(0);
    expect(bandPlaces(expected, null)!.shown).toBeNull();
    expect(bandPlaces({ ...expected, accept: null }, 3)).toBeNull();
  });
});

describe('days', () => {
  it('go over the ends of months and years', () => {
    expect(dayAfter(new Date(2026, 10, 25, 23, 59), 0)).toBe('2026-11-25');
    expect(dayAfter(new Date(2026, 11, 30), 7)).toBe('2027-01-06');
    expect(daysAfter('2026-11-18', 30)).toBe('2026-12-18');
    expect(daysAfter('2028-02-28', 1)).toBe('2028-02-29');
  });
});
