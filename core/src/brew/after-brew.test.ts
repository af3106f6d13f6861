import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Chill, KettleUse, Serving } from '../documents/index.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';
import { randomBundle } from './testing/random-bundle.ts';

const uses: fc.Arbitrary<KettleUse[]> = fc.array(
  fc.record({
    kettle_id: fc.constant('k'),
    fill_g: fc.option(fc.double({ min: 1, max: 900, noNaN: true }), { nil: null }),
    start_C: fc.option(fc.double({ min: 0, max: 100, noNaN: true }), { nil: null }),
    between: fc.constantFrom('on_base' as const, 'off_base' as const),
  }),
  { maxLength: 1 },
);

const chills: fc.Arbitrary<Chill> = fc.record({
  how: fc.constantFrom('runs_over' as const, 'caught' as const),
  first: fc.oneof(
    fc.record({
      by: fc.constant('mass' as const),
      drip_g: fc.double({ min: 0.1, max: 400, noNaN: true }),
    }),
    fc.record({
      by: fc.constant('time' as const),
      until_s: fc.double({ min: 0.1, max: 900, noNaN: true }),
    }),
  ),
  material: fc.constantFrom('stainless_steel' as const, 'porcelain' as const, 'copper' as const),
  mass_g: fc.double({ min: 5, max: 1_500, noNaN: true }),
  temperature_C: fc.double({ min: -30, max: 40, noNaN: true }),
  contact_W_K: fc.option(fc.double({ min: 0.1, max: 100, noNaN: true }), { nil: null }),
});

const servings: fc.Arbitrary<Serving> = fc.record({
  stands_s: fc.double({ min: 0, max: 900, noNaN: true }),
  lid: fc.boolean(),
  cups: fc.integer({ min: 1, max: 12 }),
  cup_g: fc.option(fc.double({ min: 5, max: 300, noNaN: true }), { nil: null }),
  cups_C: fc.option(fc.double({ min: 0, max: 100, noNaN: true }), { nil: null }),
  carry_s: fc.double({ min: 0, max: 600, noNaN: true }),
  hot_above_C: fc.constant(60),
  cold_below_C: fc.constant(40),
});

describe('kettles, chilling and cups around any brew', () => {
  it('close their books to 1e-10, stay finite, and say only whole sentences', () => {
    fc.assert(
      fc.property(randomBundle, uses, chills, servings, (bundle, kettles, chill, serving) => {
        bundle.plan.kettles = kettles;
        for (const pour of bundle.plan.pours) pour.kettle_id = 'k';
        bundle.plan.chill = chill;
        bundle.plan.serving = serving;
        bundle.setup.cup = {
          material: 'porcelain',
          mass_g: 200,
          inner_diameter_mm: 80,
          capacity_mL: 200,
          double_wall: false,
        };
        const result = simulate(bundle, { resolution: 'draft' });
        expect(result.closure.enthalpy).toBeLessThan(1e-10);
        expect(result.kettles).toHaveLength(1);
        for (const T of result.kettles[0]!.temperature_C) expect(T).toBeLessThanOrEqual(100.1);
        for (const T of result.trace.server_C) expect(Number.isFinite(T)).toBe(true);
        if (result.chill) {
          expect(result.chill.closure).toBeLessThan(1e-10);
          expect(result.chill.drip_g).toBeLessThanOrEqual(result.cup.beverage_g + 1e-6);
        }
        if (result.serving) {
          expect(result.serving.closure).toBeLessThan(1e-10);
          const poured = result.serving.cups.reduce((sum, cup) => sum + cup.beverage_g, 0);
          expect(poured + result.serving.rest_g).toBeLessThanOrEqual(result.cup.beverage_g + 1e-6);
          for (const cup of result.serving.cups)
            for (const column of [cup.temperature_C, cup.strength_pct, cup.evaporated_g])
              for (const value of column) expect(Number.isFinite(value)).toBe(true);
        } else expect(result.cup.beverage_g).toBeLessThan(1.1);
        for (const { sentence } of result.remarks) expect(sentence).not.toMatch(/[{}]|NaN|undefined/);
      }),
      { seed: 5, numRuns: 24 },
    );
  }, 60_000);
  it('leaves a plan that speaks of none of them as it was', () => {
    const bundle = demoBundle();
    Object.assign(bundle.plan, { kettles: [], chill: null, serving: null });
    const { chill, serving, kettles, trace, cup } = simulate(bundle, { resolution: 'draft' });
    expect([chill, serving]).toEqual([null, null]);
    expect(kettles.every((kettle) => !kettle.followed)).toBe(true);
    expect(cup.server_C).toBe(trace.server_C.at(-1));
  });
});
