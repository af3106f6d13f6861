import { compositionOf, type Ions, type Meter, USUAL_METER } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { sideFigures, type View } from './compare-rows.ts';
import { heatingOf, kettleFigure, USUAL_KETTLE } from './heating.ts';

const none: Ions = {
  calcium_mg_L: 0,
  magnesium_mg_L: 0,
  sodium_mg_L: 0,
  potassium_mg_L: 0,
  bicarbonate_mg_L: 0,
  chloride_mg_L: 0,
  sulfate_mg_L: 0,
  nitrate_mg_L: 0,
};
/** 2.6 mmol Ca, 0.7 mmol Mg, 5 meq of alkalinity, the rest chloride: a hard tap. */
const HARD: Ions = {
  ...none,
  calcium_mg_L: 104.2,
  magnesium_mg_L: 17,
  bicarbonate_mg_L: 305.1,
  chloride_mg_L: 56.7,
};
const side = (ions: Ions) => ({ key: 'x', name: 'x', composition: compositionOf(ions), deviations: [] });
const view = (change: Partial<View> = {}): View => ({
  heating: heatingOf(USUAL_KETTLE),
  meter: USUAL_METER,
  sample_C: 25,
  kettle_g: 1000,
  ...change,
});

describe('what a kettle is told', () => {
  it('is nothing while a figure is missing or cannot be', () => {
    expect(heatingOf({ ...USUAL_KETTLE, to_C: 'hot' })).toBeNull();
    expect(heatingOf({ ...USUAL_KETTLE, share_pct: 120 })).toBeNull();
    expect(kettleFigure({ ...USUAL_KETTLE, sample_C: null }, 'sample_C')).toBeNull();
  });

  it('takes a measured alkalinity for a share', () => {
    const heating = heatingOf({ ...USUAL_KETTLE, scale_by: 'measured', measured: 50.043 });
    expect(heating?.scale).toEqual({ by: 'alkalinity', alkalinity: expect.closeTo(1 / 997.047, 7) });
  });
});

describe('one of two waters', () => {
  it('drops in a kettle what its alkalinity loses, twice as many equivalents as moles', () => {
    const { kettle, figures } = sideFigures(side(HARD), view());
    const before = figures.quantities.alkalinity!.value;
    // 100.086 mg of scale take 100.086 mg/L as CaCO3 along, per litre of 997.047 g.
    expect(kettle!.scale_mg_kg * 0.997047).toBeCloseTo(before - kettle!.alkalinity_mg_L, 3);
    expect(kettle!.scale_mg_kg).toBeCloseTo(kettle!.most_mg_kg, 9);
    expect(kettle!.per_filling_mg).toBeCloseTo(kettle!.scale_mg_kg, 9);
    expect(kettle!.scale_mg_kg).toBeGreaterThan(150);
  });

  it('keeps its alkalinity in a kettle that drops nothing', () => {
    const still = sideFigures(side(HARD), view({ heating: heatingOf({ ...USUAL_KETTLE, share_pct: 0 }) }));
    expect(still.kettle!.alkalinity_mg_L).toBeCloseTo(still.figures.quantities.alkalinity!.value, 6);
  });

  it('reads by the scale of the meter, and not at all when it is too hot for one', () => {
    const on = (scale: Meter['scale'], sample_C: number) =>
      sideFigures(side(HARD), view({ meter: { ...USUAL_METER, scale }, sample_C })).sample!;
    const plain = on({ by: 'uS_cm' }, 25).reading!.value;
    expect(on({ by: 'factor', factor: 0.7 }, 25).reading!.value).toBeCloseTo(0.7 * plain, 6);
    expect(on({ by: 'uS_cm' }, 80).reading).toBeNull();
    expect(on({ by: 'uS_cm' }, 80).conductivity_uS_cm).toBeGreaterThan(2 * plain);
  });
});
