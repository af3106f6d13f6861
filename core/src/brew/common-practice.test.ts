/**
 * The plan that common practice reports about: 14 g, four pours of 50 g, 70 °C and then 95 °C, two settings mixed, a
 * flat-bottom plastic dripper. Practice says about 155 g in the server (lifted before it is quite dry) and a bed from
 * about 35 °C to about 70 °C. Common practice, no source: check values, not proof. Typical strengths are 1.25–1.55 % (common practice);
 * with 150–175 g from 14 g the yield then is 13.4–19.4 %, by mass balance alone.
 */
import { describe, expect, it } from 'vitest';
import { bedVisits } from './bed-visits.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';

describe('four pours, cool then hot', () => {
  const bundle = demoBundle();
  const result = simulate(bundle);

  it('is the plan that practice speaks of', () => {
    expect(bundle.plan.dose_g).toBe(14);
    expect(bundle.plan.pours.map((p) => [p.start_s, p.water_g, p.kettle_temperature_C])).toEqual([
      [0, 50, 70],
      [30, 50, 95],
      [60, 50, 95],
      [90, 50, 95],
    ]);
    expect(bundle.plan.grind.map((part) => part.share)).toEqual([0.75, 0.25]);
  });

  it('gives a cup of 150–175 g and 1.25–1.55 %, and the yield that follows from both', () => {
    expect(result.cup.beverage_g).toBeGreaterThan(150);
    expect(result.cup.beverage_g).toBeLessThan(175);
    expect(result.cup.strength_pct).toBeGreaterThan(1.25);
    expect(result.cup.strength_pct).toBeLessThan(1.55);
    expect(result.cup.yield_pct).toBeGreaterThan(13.4);
    expect(result.cup.yield_pct).toBeLessThan(19.4);
    expect(result.cup.ratio).toBeCloseTo(14.3, 1);
  });

  it('climbs past 65 °C with the second pour, and not before it anywhere in the mean', () => {
    expect(result.pours[0]!.bed_after_C).toBeLessThan(65);
    expect(result.pours[1]!.bed_after_C).toBeGreaterThan(65);
  });

  it('says where and when the bed is near 35 °C: at the front that wets it, on its way down', () => {
    const near = bedVisits(result.trace, 35, 2);
    expect(near.visits.length).toBeGreaterThan(0);
    for (const visit of near.visits) {
      expect(visit.from_s).toBeGreaterThanOrEqual(0);
      expect(visit.to_s).toBeLessThan(bundle.plan.pours[1]!.start_s);
    }
  });

  it('still drips when it is lifted, as practice does', () => {
    expect(result.cup.lifted).toBe(true);
    expect(result.remarks.map((r) => r.code)).toContain('drip_at_lift');
  });
});
