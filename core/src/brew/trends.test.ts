/** Which way the cup moves: trends that published experiments or plain physics leave no doubt about. */
import { describe, expect, it } from 'vitest';
import type { BrewBundle } from '../documents/index.ts';
import type { BrewResult } from './result.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';

/** The demo plan left to drain, changed, at draft resolution. */
function brew(change: (bundle: BrewBundle) => void = () => {}): BrewResult {
  const bundle = demoBundle();
  bundle.plan.lift_s = null;
  change(bundle);
  return simulate(bundle, { resolution: 'draft' });
}

const coarser = (factor: number) => (bundle: BrewBundle) => {
  for (const grinder of Object.values(bundle.grinders))
    for (const setting of grinder.settings)
      if (setting.distribution.by === 'modes') setting.distribution.modes[0]!.median_um *= factor;
};

const rising = (values: readonly number[]) => values.every((x, i) => i === 0 || x > values[i - 1]!);

describe('the cup moves the way it must', () => {
  it('yields less with a coarser grind when flow is even (Cameron et al. 2020)', () => {
    const yields = [0.5, 0.7, 1, 1.4].map((f) => brew(coarser(f)).cup.yield_pct);
    expect(rising([...yields].reverse())).toBe(true);
  });
  it('drains slower with a finer grind', () => {
    const times = [1.4, 1, 0.7, 0.5].map((f) => brew(coarser(f)).cup.drawdown_s!);
    expect(rising(times)).toBe(true);
  });
  it('drains slower and yields less with cooler water', () => {
    const at = (T: number) =>
      brew((b) => {
        for (const pour of b.plan.pours) pour.kettle_temperature_C = T;
      }).cup;
    const [cold, warm, hot] = [at(20), at(70), at(95)];
    expect(rising([hot.drawdown_s!, warm.drawdown_s!, cold.drawdown_s!])).toBe(true);
    expect(rising([cold.yield_pct, warm.yield_pct, hot.yield_pct])).toBe(true);
  });
  it('drips weaker from one half minute to the next in a steady drip (Batali et al. 2020)', () => {
    const { trace } = brew((b) => {
      b.plan.pours = [
        { ...b.plan.pours[1]!, start_s: 0, water_g: 220, rate: { by: 'duration', duration_s: 120 } },
      ];
    });
    const means: number[] = [];
    for (let from = 15; from < 135; from += 30) {
      const at = [...trace.time_s.keys()].filter(
        (i) => trace.time_s[i]! >= from && trace.time_s[i]! < from + 30 && trace.drip_g_s[i]! > 0,
      );
      means.push(at.reduce((sum, i) => sum + trace.drip_strength_pct[i]!, 0) / at.length);
    }
    expect(rising([...means].reverse())).toBe(true);
  });
  it('never takes more than there is, whatever the water', () => {
    const { cup } = brew((b) => {
      b.plan.pours = Array.from({ length: 30 }, (_, i) => ({
        ...b.plan.pours[1]!,
        id: `p${i}`,
        start_s: i * 40,
        water_g: 60,
      }));
    });
    expect(cup.total_yield_pct).toBeGreaterThan(28);
    expect(cup.total_yield_pct).toBeLessThanOrEqual(30);
  });
  it('warms a heavy cold dripper at the cost of the bed, less so after a hot rinse', () => {
    const heavy = (rinse: BrewBundle['plan']['rinse']) =>
      brew((b) => {
        b.setup.dripper.material = 'porcelain';
        b.setup.dripper.mass_g = 500;
        b.plan.rinse = rinse;
      }).pours[0]!.bed_after_C;
    const light = brew().pours[0]!.bed_after_C;
    expect(rising([heavy(null), heavy({ water_g: 300, temperature_C: 95 })])).toBe(true);
    expect(heavy(null)).toBeLessThan(light);
  });
  it('gives sooner from the top and from smaller grains; fines are done and rest with the liquid around them', () => {
    const { evenness, cup } = brew();
    const [fines, ...coarse] = evenness.sizes.map((size) => size.yield_pct);
    expect(evenness.layer_yield_pct[0]!).toBeGreaterThan(evenness.layer_yield_pct.at(-1)!);
    expect(rising([...coarse].reverse())).toBe(true);
    expect(fines!).toBeGreaterThan(cup.total_yield_pct);
  });
  it('takes small molecules before large ones', () => {
    const share = (key: string) => brew().cup.solutes.find((s) => s.key === key)!.extracted_pct;
    expect(share('caffeine')).toBeGreaterThan(share('polymers'));
    expect(share('acids')).toBeGreaterThan(share('chlorogenic'));
  });
});

describe('what the hands do', () => {
  it('a lift ends the drip at that very moment', () => {
    const result = brew((b) => {
      b.plan.lift_s = 111.25;
    });
    expect(result.trace.time_s.at(-1)).toBe(111.25);
    expect(result.cup.lifted).toBe(true);
    expect(result.cup.beverage_g).toBeLessThan(brew().cup.beverage_g);
  });
  it('a closed outlet lets nothing through before it opens', () => {
    const { trace } = brew((b) => {
      b.setup.dripper.height_mm = 200;
      b.plan.outlet_opens_s = 150;
    });
    trace.time_s.forEach((t, i) => {
      if (t <= 150) expect(trace.beverage_g[i]).toBe(0);
    });
    expect(trace.beverage_g.at(-1)).toBeGreaterThan(150);
  });
  it('every pour start and end is a moment of the trace', () => {
    const bundle = demoBundle();
    const { trace } = simulate(bundle);
    for (const pour of bundle.plan.pours) {
      expect(trace.time_s).toContain(pour.start_s);
      expect(trace.time_s).toContain(pour.start_s + 10);
    }
  });
  it('bypass water weakens the cup and leaves the yield', () => {
    const plain = brew();
    const weak = brew((b) => {
      b.plan.bypass = { water_g: 40, temperature_C: 80, water_id: b.plan.pours[0]!.water_id };
    });
    expect(weak.cup.beverage_g - plain.cup.beverage_g).toBeCloseTo(40, 6);
    expect(weak.cup.yield_pct).toBeCloseTo(plain.cup.yield_pct, 9);
    expect(weak.cup.strength_pct).toBeLessThan(plain.cup.strength_pct);
  });
  it('a stir evens the bed', () => {
    const stirred = brew((b) => {
      b.plan.actions = [0, 1, 2, 3].map((i) => ({
        id: `s${i}`,
        what: 'stir' as const,
        start_s: i * 30 + 10,
        duration_s: 5,
      }));
    });
    expect(stirred.evenness.top_to_bottom).toBeGreaterThan(brew().evenness.top_to_bottom);
  });
});

describe('remarks', () => {
  const codes = (change: (bundle: BrewBundle) => void) => brew(change).remarks.map((r) => r.code);
  it('speak of a head that runs over the rim, and book what is lost', () => {
    const result = brew((b) => {
      b.plan.pours = [{ ...b.plan.pours[1]!, water_g: 900, rate: { by: 'flow', flow_g_s: 40 } }];
    });
    expect(result.remarks[0]!.code).toBe('head_overflows');
    expect(result.cup.spilled_g).toBeGreaterThan(100);
  });
  it('speak of one kettle that cannot go from 70 °C to 95 °C in 20 s', () => {
    const found = brew((b) => {
      for (const pour of b.plan.pours) pour.kettle_id = b.setup.kettles[0]!.id;
    }).remarks.find((r) => r.code === 'kettle_too_slow');
    expect(found?.values).toMatchObject({ from: 70, to: 95, needed: 25 });
    expect(found?.sentence).toMatch(/needs 25 K, but its power gives \d+ K/);
  });
  it('speak of a kettle that is too small, a server that is too small, a bed left dry', () => {
    expect(
      codes((b) => {
        for (const pour of b.plan.pours) pour.kettle_id = b.setup.kettles[0]!.id;
        b.setup.kettles[0]!.capacity_g = 150;
      }),
    ).toContain('kettle_too_small');
    expect(
      codes((b) => {
        b.setup.server.capacity_mL = 120;
      }),
    ).toContain('server_too_small');
    expect(
      codes((b) => {
        b.plan.pours = [{ ...b.plan.pours[0]!, water_g: 12 }];
      }),
    ).toContain('bed_not_wetted');
  });
  it('speak of fresh coffee and of water near its boiling point', () => {
    expect(
      codes((b) => {
        b.plan.coffee_age_d = 0;
      }),
    ).toContain('gas_strong');
    expect(
      codes((b) => {
        b.venue.altitude_m = 1_600;
      }),
    ).toContain('near_boiling');
  });
  it('fill every blank of their sentences', () => {
    const all = [
      brew((b) => {
        b.plan.lift_s = 105;
      }),
      brew((b) => {
        b.plan.coffee_age_d = 0;
        b.setup.server.capacity_mL = 50;
      }),
      brew((b) => {
        b.plan.pours = [{ ...b.plan.pours[0]!, water_g: 12 }];
      }),
    ].flatMap((r) => r.remarks);
    expect(all.length).toBeGreaterThan(3);
    for (const remark of all) expect(remark.sentence).not.toMatch(/[{}]|NaN|undefined/);
  });
});
