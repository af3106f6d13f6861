import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkBundle, dripperVolume, hottestKettle_C, venuePressure } from './check-bundle.ts';
import { PLAN_ID, sample, sampleBundle, WATER_ID } from './testing/samples.ts';

describe('a plan with all it points to', () => {
  it('passes when nothing is wrong', () => {
    expect(checkBundle(sampleBundle())).toEqual([]);
  });
});

describe('a kettle hotter than water boils at the venue', () => {
  const high = () => {
    const bundle = sampleBundle();
    bundle.venue.altitude_m = 2240;
    bundle.plan.pours.forEach((pour, i) => {
      pour.kettle_temperature_C = i === 1 ? 94 : 90;
    });
    bundle.plan.rinse = null;
    bundle.plan.bypass = null;
    return bundle;
  };
  it('is refused at the pour that asks for it', () => {
    expect(checkBundle(high())).toEqual([
      {
        document_id: PLAN_ID,
        level: 'problem',
        code: 'too_hot_to_hold',
        path: ['pours', 1, 'kettle_temperature_C'],
        values: { field: 'pours, row 2: kettle temperature', value: '94 °C', limit: 92.5 },
        sentence:
          'Pours, row 2: kettle temperature is 94 °C; at this venue water boils at 92.5 °C, so a kettle cannot hold it. Ask for 92.5 °C or less.',
      },
    ]);
  });
  it('is refused for the rinse and for the water added afterwards as well', () => {
    const bundle = high();
    bundle.plan.pours[1]!.kettle_temperature_C = 92.5;
    bundle.plan.rinse = { water_g: 100, temperature_C: 96 };
    bundle.plan.bypass = { water_g: 20, temperature_C: 93, water_id: WATER_ID };
    expect(checkBundle(bundle).map((p) => [p.code, ...p.path])).toEqual([
      ['too_hot_to_hold', 'rinse', 'temperature_C'],
      ['too_hot_to_hold', 'bypass', 'temperature_C'],
    ]);
  });
  it('goes by the measured pressure where there is one', () => {
    const bundle = high();
    bundle.venue.pressure_hPa = 1013.25;
    expect(checkBundle(bundle)).toEqual([]);
    bundle.venue.altitude_m = 0;
    bundle.venue.pressure_hPa = 700;
    expect(checkBundle(bundle).every((p) => p.code === 'too_hot_to_hold' && p.values.limit === 89.9)).toBe(
      true,
    );
    expect(checkBundle(bundle)).toHaveLength(4);
  });
  it('lets 100 °C stand at sea level, where kettles show just that', () => {
    expect(hottestKettle_C({ altitude_m: 0, pressure_hPa: null })).toBe(100);
  });
  it('accepts the limit it names and refuses a tenth more, at any venue', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -500, max: 5500, noNaN: true }),
        fc.option(fc.double({ min: 450, max: 1100, noNaN: true })),
        (altitude_m, pressure_hPa) => {
          const bundle = sampleBundle();
          bundle.venue = { ...sample('venue'), altitude_m, pressure_hPa };
          const limit = hottestKettle_C(bundle.venue);
          bundle.plan.rinse = null;
          bundle.plan.bypass = null;
          for (const pour of bundle.plan.pours) pour.kettle_temperature_C = limit;
          expect(checkBundle(bundle)).toEqual([]);
          bundle.plan.pours[2]!.kettle_temperature_C = limit + 0.1;
          expect(checkBundle(bundle).map((p) => p.path)).toEqual([['pours', 2, 'kettle_temperature_C']]);
          expect(venuePressure(bundle.venue)).toBeGreaterThan(40_000);
        },
      ),
      { seed: 20261125, numRuns: 300 },
    );
  });
});

describe('a closed outlet', () => {
  it('needs a dripper with a valve', () => {
    const bundle = sampleBundle();
    bundle.plan.outlet_opens_s = 120;
    expect(checkBundle(bundle)).toMatchObject([
      {
        code: 'outlet_needs_valve',
        level: 'problem',
        path: ['outlet_opens_s'],
        sentence:
          'Outlet opens is 120 s; this dripper has no valve that could keep its outlet closed. Choose a dripper with one, or leave this empty.',
      },
    ]);
    bundle.setup.dripper.valve = true;
    expect(checkBundle(bundle)).toEqual([]);
  });
});

describe('kettles and cups that a plan speaks of', () => {
  it('a kettle cannot be filled with more than it holds', () => {
    const bundle = sampleBundle();
    bundle.plan.kettles[0]!.fill_g = 950;
    expect(checkBundle(bundle)).toMatchObject([
      {
        code: 'overfilled',
        level: 'problem',
        path: ['kettles', 0, 'fill_g'],
        sentence: 'Kettles, row 1: fill is 950 g; Kettle holds 900 g. Fill it with 900 g or less.',
      },
    ]);
    bundle.plan.kettles[0]!.fill_g = null;
    expect(checkBundle(bundle)).toEqual([]);
  });
  it('nor start hotter than water boils', () => {
    const bundle = sampleBundle();
    bundle.plan.kettles[0]!.start_C = 100.4;
    expect(checkBundle(bundle)).toMatchObject([
      { code: 'too_hot_to_hold', level: 'problem', path: ['kettles', 0, 'start_C'] },
    ]);
  });
  it('cups that the setup lacks are a caution: the brew itself can be predicted', () => {
    const bundle = sampleBundle();
    bundle.setup.cup = null;
    expect(checkBundle(bundle)).toMatchObject([
      {
        code: 'no_cup',
        level: 'caution',
        path: ['serving'],
        sentence:
          'Serving asks for cups, but Flat plastic on glass has none. Add a cup to it to see how long it stays hot and warm.',
      },
    ]);
    bundle.plan.serving = null;
    expect(checkBundle(bundle)).toEqual([]);
  });
});

describe('a dose too large for the dripper', () => {
  it('is refused, and the dose that would fit is named', () => {
    const bundle = sampleBundle();
    // Frustum of 50 and 100 mm over 70 mm: π/12 · 7 · (100 + 50 + 25) = 320.7 mL, so 96.2 g at 300 kg/m³.
    expect(dripperVolume(bundle.setup.dripper) * 1e6).toBeCloseTo(320.7, 1);
    bundle.plan.dose_g = 96.2;
    expect(checkBundle(bundle)).toEqual([]);
    bundle.plan.dose_g = 100;
    expect(checkBundle(bundle)).toMatchObject([
      {
        code: 'dripper_too_small',
        level: 'problem',
        path: ['dose_g'],
        sentence:
          'Dose is 100 g; that much ground coffee takes up about 334 mL, and this dripper holds 320 mL. Take a dose of 96.2 g or less, or a larger dripper.',
      },
    ]);
  });
});

describe('a water with a missing ion', () => {
  it('is a caution that names the water, not a problem', () => {
    const bundle = sampleBundle();
    bundle.waters[WATER_ID]!.bicarbonate_mg_L = 0;
    expect(checkBundle(bundle)).toMatchObject([
      {
        code: 'charge_imbalance',
        level: 'caution',
        document_id: WATER_ID,
        path: [],
        sentence:
          'The ions of Water 75 do not balance: 1.05 meq/L of positive charge against 0.70 of negative, 20 % apart. An ion is probably missing; check the label.',
      },
    ]);
  });
  it('is not seen in purified water with a trace of something', () => {
    const bundle = sampleBundle();
    const water = bundle.waters[WATER_ID]!;
    for (const key of Object.keys(water)) if (key.endsWith('_mg_L')) Reflect.set(water, key, 0);
    water.sodium_mg_L = 0.3;
    expect(checkBundle(bundle)).toEqual([]);
    water.sodium_mg_L = 0.6;
    expect(checkBundle(bundle)).toHaveLength(1);
  });
});
