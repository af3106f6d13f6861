import { describe, expect, it } from 'vitest';
import type { AnyDocument, Trial } from '../documents/index.ts';
import { INSTRUMENT_ID, sample, sampleBundle, WATER_ID } from '../documents/testing/samples.ts';
import { checkTrial } from './check-trial.ts';

/** What is said of a sound trial of the sample plan with some fields changed: `level | sentence`. */
function said(changes: Partial<Trial>): string[] {
  const { plan, coffee, setup, venue } = sampleBundle();
  const all: AnyDocument[] = [plan, coffee, setup, venue, sample('instrument')];
  const sound: Trial = {
    ...sample('trial'),
    roasted_on: null,
    frozen_d: null,
    poured: [],
    brix_readings: [],
    ...changes,
  };
  return checkTrial(sound, (id) => all.find((d) => d.id === id)).map((p) => `${p.level} | ${p.sentence}`);
}

const readings = (strength_pct: number) => [{ strength_pct, sample_C: 22 }];

describe('a trial and its plan', () => {
  it('go together when nothing is wrong', () => {
    expect(said({})).toEqual([]);
  });
  it.each<[Partial<Trial>, string]>([
    [
      { beverage_g: 260 },
      'problem | Beverage is 260 g, more than the 210.5 g of water that went in. Weigh again, or take off the mass of the server.',
    ],
    [
      { strength_readings: readings(4.5) },
      'problem | Strength readings: 4.49 % in 163 g from 14.02 g of coffee is a yield of 52.2 %; no coffee gives more than 36 %. Check the dose, the beverage and the readings.',
    ],
    [
      { strength_readings: readings(2.7) },
      'caution | Strength readings: 2.69 % in 163 g from 14.02 g of coffee is a yield of 31.3 %; more than 30 % is rare. Check the dose, the beverage and the readings.',
    ],
    [
      { beverage_g: 90 },
      'caution | Beverage is 90 g; then the grounds hold 8.6 g of liquid per g, usually 1 to 8. Check dose, water and beverage.',
    ],
    [{ dose_g: 16 }, 'caution | Dose is 16 g, and the plan says 14 g. It counts as measured.'],
    [{ drawdown_s: 60 }, 'problem | Drawdown is 60 s, before the last pour ended at 102 s. Check the clock.'],
    [{ end_s: 160 }, 'caution | End is 160 s; it must not be before its beginning, 171 s.'],
    [
      { temperatures: [{ time_s: 5, where: 'kettle', temperature_C: 101 }] },
      'caution | Temperatures, row 1: temperature is 101 °C; at this venue water boils at 99.9 °C. Check the thermometer.',
    ],
    [
      { brewed_at: '2027-02-01T09:00:00+08:00' },
      'problem | Brewed at is 2027-02-01T09:00:00+08:00; it must not be before 2027-02-10.',
    ],
    [{ frozen_d: 90 }, 'problem | Frozen is 90 d, longer than the 22 d since roasting.'],
    [
      { poured: [{ pour_id: 'p1', start_s: 0, end_s: 10, water_g: 120, kettle_C: null }] },
      'caution | Water is 200.4 g, and the pours as recorded add up to 120 g. Correct one of them.',
    ],
    [
      { refractometer_id: WATER_ID },
      'problem | Refractometer id points to a measuring instrument that is not in this campaign. Choose one that is.',
    ],
  ])('%j', (changes, sentence) => {
    expect(said(changes)).toContain(sentence);
  });
  it('takes the plan as it stood then before the one of today', () => {
    const then = { ...sampleBundle().plan, dose_g: 16 };
    expect(said({ plan_then: then, dose_g: 16.1 })).toEqual([]);
  });
  it('of an instrument in Brix is judged by its own line', () => {
    expect(
      said({
        strength_readings: [],
        brix_readings: [{ brix: 5, sample_C: 22 }],
        refractometer_id: INSTRUMENT_ID,
      })[0],
    ).toContain('Brix readings');
  });
});
