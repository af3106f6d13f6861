import { describe, expect, it } from 'vitest';
import { type BrewBundle, checkDocument } from '../documents/index.ts';
import { boilingPoint, celsius, standardPressure } from '../units/index.ts';
import { streamAt } from './case.ts';
import { compileCase } from './compile.ts';
import { followedPours, kettleCourses } from './kettles.ts';
import { defaultParameters } from './parameters.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';

type Use = BrewBundle['plan']['kettles'][number];

const use = (change: Partial<Use>): Use => ({
  kettle_id: 'a',
  fill_g: null,
  start_C: null,
  between: 'on_base',
  ...change,
});

/** The demo's four pours, the hot three from kettle A at 30, 60 and 90 s; changed. */
function bundleWith(change: (bundle: BrewBundle) => void = () => {}): BrewBundle {
  const bundle = demoBundle();
  bundle.plan.kettles = [];
  change(bundle);
  return bundle;
}

const courseOf = (bundle: BrewBundle) => kettleCourses(bundle).find((c) => c.kettle_id === 'a')!;
const codes = (bundle: BrewBundle) => simulate(bundle, { resolution: 'draft' }).remarks.map((r) => r.code);

describe('a plan that says nothing of its kettles', () => {
  it('pours just what it asks for, whatever the kettles could do', () => {
    const bundle = bundleWith((b) => {
      b.setup.kettles[0]!.power_W = 0;
    });
    const c = compileCase(bundle, defaultParameters(), 'draft');
    for (const pour of c.pours) expect(pour).not.toHaveProperty('temperatureEnd');
    expect(followedPours(bundle).size).toBe(0);
    expect(courseOf(bundle).followed).toBe(false);
  });
  it('may be older than the fields that could say it', () => {
    const { kettles, chill, serving, ...older } = demoBundle().plan;
    const checked = checkDocument(older);
    expect(checked).toMatchObject({ ok: true, value: { kettles: [], chill: null, serving: null } });
  });
});

describe('a kettle the plan follows', () => {
  it('makes its pours as hot as it is, falling through each', () => {
    const bundle = bundleWith((b) => {
      b.plan.kettles = [use({ fill_g: 500, between: 'off_base' })];
    });
    const { pours } = courseOf(bundle);
    expect(pours.map((p) => p.left_g)).toEqual([450, 400, 350]);
    pours.reduce((before, pour) => {
      expect(pour.start_C).toBeLessThan(before);
      expect(pour.end_C).toBeLessThan(pour.start_C);
      return pour.end_C;
    }, 95);
    const c = compileCase(bundle, defaultParameters(), 'draft');
    const asked = compileCase(bundleWith(), defaultParameters(), 'draft');
    const hot = c.pours.findIndex((p) => p.id === 'p3');
    const lost = asked.pours[hot]!.temperature - c.pours[hot]!.temperature;
    expect(lost / (95 - pours[1]!.start_C)).toBeCloseTo(1, 1);
    const { start, end, temperature, temperatureEnd } = c.pours[hot]!;
    expect(streamAt(c.pours[hot]!, (start + end) / 2)).toBeCloseTo((temperature + temperatureEnd!) / 2, 10);
    expect(c.pours[0]).toEqual(asked.pours[0]);
  });
  it('cools the cup a little when it stands beside its base', () => {
    const cup = (between: Use['between']) =>
      simulate(
        bundleWith((b) => {
          b.plan.kettles = [use({ fill_g: 250, between })];
        }),
        { resolution: 'draft' },
      ).cup;
    expect(cup('off_base').peak_bed_C).toBeLessThan(cup('on_base').peak_bed_C);
  });
  it('is full and at the temperature of its first pour unless the plan says otherwise', () => {
    const full = courseOf(
      bundleWith((b) => {
        b.plan.kettles = [use({})];
      }),
    );
    expect(full.fill_g).toBe(1_000);
    expect(full.pours[0]!.start_C).toBeCloseTo(95, 10);
    const cold = courseOf(
      bundleWith((b) => {
        b.plan.kettles = [use({ start_C: 20 })];
      }),
    );
    expect(cold.pours[0]!.start_C).toBeLessThan(35);
  });
  it('holds no more than boiling at the venue', () => {
    const course = courseOf(
      bundleWith((b) => {
        b.venue.altitude_m = 1_600;
        b.plan.kettles = [use({})];
      }),
    );
    expect(course.boils_C).toBe(celsius(boilingPoint(standardPressure(1_600))));
    expect(course.boils_C).toBeLessThan(95);
    expect(Math.max(...course.temperature_C)).toBe(course.boils_C);
  });
  it('gives columns of one length that pass through every event', () => {
    const course = courseOf(bundleWith());
    expect(course.temperature_C).toHaveLength(course.time_s.length);
    expect(course.water_g).toHaveLength(course.time_s.length);
    for (const at of [0, 30, 40, 60, 70, 90, 100]) expect(course.time_s).toContain(at);
  });
});

describe('remarks on kettles', () => {
  it('name the moment at which one is empty', () => {
    const bundle = bundleWith((b) => {
      b.plan.kettles = [use({ fill_g: 120 })];
    });
    expect(courseOf(bundle).empty_s).toBeCloseTo(94, 6);
    const found = simulate(bundle, { resolution: 'draft' }).remarks[0];
    expect(found).toMatchObject({ level: 'problem', code: 'kettle_runs_empty' });
    expect(found?.sentence).toContain('is empty at 94 s: it held 120 g and the plan pours 150 g');
  });
  it('say nothing of a kettle that holds just what is poured', () => {
    const bundle = bundleWith((b) => {
      b.plan.kettles = [use({ fill_g: 150 })];
    });
    expect(courseOf(bundle).empty_s).toBeNull();
  });
  it('tell apart one that cooled, one that still heats and one that is still hot', () => {
    const followed = (change: (b: BrewBundle) => void, more: Partial<Use> = {}) =>
      codes(
        bundleWith((b) => {
          b.plan.kettles = [use({ fill_g: 300, ...more })];
          change(b);
        }),
      );
    expect(followed(() => {}, { between: 'off_base' })).toContain('kettle_cooled');
    expect(
      followed((b) => {
        b.plan.pours[1]!.kettle_temperature_C = 60;
      }),
    ).toContain('kettle_still_heating');
    expect(
      followed((b) => {
        b.plan.pours[3]!.kettle_temperature_C = 70;
      }),
    ).toContain('kettle_still_hot');
    const cooled = followed(() => {}, { between: 'off_base', fill_g: 160 });
    expect(cooled.filter((code) => code === 'kettle_cooled')).toHaveLength(1);
    expect(followed(() => {}).filter((code) => code.startsWith('kettle'))).toEqual([]);
  });
});
