import fc from 'fast-check';
import type { BrewBundle, Plan } from '../../documents/index.ts';

const ID = (n: number): string => `0190a000-0000-7000-8000-${String(n).padStart(12, '0')}`;

const common = (n: number, name: string) => ({
  id: ID(n),
  campaign_id: ID(1),
  name,
  notes: '',
  archived: false,
});

/** Ingredients of a random plan, before times are laid out. */
const ingredients = fc.record({
  dose_g: fc.double({ min: 5, max: 60, noNaN: true }),
  medians: fc.array(fc.integer({ min: 200, max: 1_400 }), { minLength: 1, maxLength: 3 }),
  fines: fc.double({ min: 0, max: 0.25, noNaN: true }),
  pours: fc.array(
    fc.record({
      pause: fc.double({ min: 0, max: 60, noNaN: true }),
      water_g: fc.double({ min: 1, max: 200, noNaN: true }),
      flow: fc.double({ min: 1, max: 15, noNaN: true }),
      temperature: fc.double({ min: 5, max: 99, noNaN: true }),
      height: fc.double({ min: 0, max: 40, noNaN: true }),
    }),
    { minLength: 1, maxLength: 8 },
  ),
  actions: fc.array(
    fc.record({
      what: fc.constantFrom('stir' as const, 'swirl' as const),
      start: fc.double({ min: 0, max: 120, noNaN: true }),
    }),
    { maxLength: 3 },
  ),
  shape: fc.constantFrom('flat' as const, 'cone' as const),
  material: fc.constantFrom('polypropylene' as const, 'porcelain' as const, 'stainless_steel' as const),
  mass_g: fc.integer({ min: 20, max: 600 }),
  lift: fc.option(fc.double({ min: 1, max: 120, noNaN: true }), { nil: null }),
  closed: fc.option(fc.double({ min: 0, max: 200, noNaN: true }), { nil: null, freq: 4 }),
  rinse: fc.boolean(),
  bypass: fc.option(fc.double({ min: 1, max: 100, noNaN: true }), { nil: null, freq: 4 }),
  altitude_m: fc.integer({ min: 0, max: 3_000 }),
  air_C: fc.integer({ min: 5, max: 38 }),
  age: fc.option(fc.integer({ min: 0, max: 60 }), { nil: null }),
  moisture_pct: fc.double({ min: 0, max: 6, noNaN: true }),
});

type Ingredients = typeof ingredients extends fc.Arbitrary<infer T> ? T : never;

/** What a brewer would serve: 10–40 g at 12–18 : 1 in one to six hot pours, drained, lifted late or steeped first. */
const servable = fc
  .record({
    dose_g: fc.double({ min: 10, max: 40, noNaN: true }),
    ratio: fc.double({ min: 12, max: 18, noNaN: true }),
    medians: fc.array(fc.integer({ min: 500, max: 1_000 }), { minLength: 1, maxLength: 2 }),
    fines: fc.double({ min: 0.05, max: 0.18, noNaN: true }),
    pours: fc.array(
      fc.record({
        pause: fc.double({ min: 8, max: 35, noNaN: true }),
        share: fc.double({ min: 0.5, max: 1.5, noNaN: true }),
        flow: fc.double({ min: 3, max: 9, noNaN: true }),
        temperature: fc.double({ min: 75, max: 98, noNaN: true }),
        height: fc.double({ min: 2, max: 20, noNaN: true }),
      }),
      { minLength: 1, maxLength: 6 },
    ),
    actions: fc.array(
      fc.record({
        what: fc.constantFrom('stir' as const, 'swirl' as const),
        start: fc.double({ min: 2, max: 60, noNaN: true }),
      }),
      { maxLength: 1 },
    ),
    shape: fc.constantFrom('flat' as const, 'cone' as const),
    material: fc.constantFrom('polypropylene' as const, 'porcelain' as const, 'stainless_steel' as const),
    mass_g: fc.integer({ min: 60, max: 500 }),
    lift: fc.option(fc.double({ min: 40, max: 90, noNaN: true }), { nil: null }),
    closed: fc.option(fc.double({ min: 60, max: 200, noNaN: true }), { nil: null, freq: 6 }),
    rinse: fc.boolean(),
    bypass: fc.option(fc.double({ min: 10, max: 60, noNaN: true }), { nil: null, freq: 4 }),
    altitude_m: fc.integer({ min: 0, max: 2_000 }),
    air_C: fc.integer({ min: 15, max: 30 }),
    age: fc.integer({ min: 4, max: 40 }),
    moisture_pct: fc.double({ min: 0, max: 3, noNaN: true }),
  })
  .map((x): Ingredients => {
    const all = x.pours.reduce((sum, pour) => sum + pour.share, 0);
    const pours = x.pours.map((pour) => ({ ...pour, water_g: (x.dose_g * x.ratio * pour.share) / all }));
    const last = pours.reduce((time, pour) => time + pour.pause + pour.water_g / pour.flow, -pours[0]!.pause);
    const lift = x.lift === null ? null : Math.max(x.lift, (x.closed ?? 0) + 60 - last);
    return { ...x, pours, lift };
  });

/** Random bundles over the whole range a brewer could mean, from a gentle pour-over to a flood or an iced rinse. */
export const randomBundle: fc.Arbitrary<BrewBundle> = ingredients.map(bundleOf);

/** Random bundles that make a cup one would serve; what accuracy is asked of. */
export const servableBundle: fc.Arbitrary<BrewBundle> = servable.map(bundleOf);

function bundleOf(x: Ingredients): BrewBundle {
  let time = 0;
  const pours = x.pours.map((pour, i): Plan['pours'][number] => {
    const start_s = i === 0 ? 0 : time + pour.pause;
    time = start_s + pour.water_g / pour.flow;
    return {
      id: `p${i}`,
      start_s,
      water_g: pour.water_g,
      rate: { by: 'flow', flow_g_s: pour.flow },
      water_id: ID(10),
      kettle_id: null,
      kettle_temperature_C: pour.temperature,
      height_cm: pour.height,
    };
  });
  const plan: Plan = {
    kind: 'plan',
    version: 1,
    ...common(2, 'random'),
    coffee_id: ID(3),
    setup_id: ID(4),
    venue_id: ID(5),
    dose_g: x.dose_g,
    coffee_age_d: x.age,
    grounds_C: null,
    grind: x.medians.map((_, i) => ({ grinder_id: ID(6), setting_id: `s${i}`, share: 1 / x.medians.length })),
    rinse: x.rinse ? { water_g: 100, temperature_C: 95 } : null,
    pours,
    actions: x.actions.map((action, i) => ({
      id: `a${i}`,
      what: action.what,
      start_s: action.start,
      duration_s: 3,
    })),
    outlet_opens_s: x.closed,
    lift_s: x.lift === null ? null : time + x.lift,
    bypass: x.bypass === null ? null : { water_g: x.bypass, temperature_C: 80, water_id: ID(10) },
    kettles: [],
    chill: null,
    serving: null,
  };
  return {
    plan,
    coffee: {
      kind: 'coffee',
      version: 1,
      ...common(3, 'coffee'),
      process: '',
      roast: 'light',
      roasted_on: null,
      frozen_on: null,
      thawed_on: null,
      stock_g: null,
      moisture_pct: x.moisture_pct,
      extractable_pct: null,
      co2_at_roast_mg_g: null,
    },
    setup: {
      kind: 'setup',
      version: 1,
      ...common(4, 'setup'),
      dripper: {
        shape: x.shape,
        bottom_diameter_mm: x.shape === 'flat' ? 50 : 18,
        rim_diameter_mm: 118,
        height_mm: 95,
        material: x.material,
        mass_g: x.mass_g,
        valve: true,
      },
      paper: { mass_g: 1.6, resistance_per_m: null },
      server: {
        material: 'borosilicate_glass',
        mass_g: 200,
        capacity_mL: 2_000,
        preheated_C: null,
        inner_diameter_mm: null,
      },
      cup: null,
      kettles: [
        { id: 'k', name: 'kettle', capacity_g: 900, power_W: 1_200, body_equivalent_g: 100, loss_W_K: 1.2 },
      ],
    },
    venue: {
      kind: 'venue',
      version: 1,
      ...common(5, 'venue'),
      altitude_m: x.altitude_m,
      pressure_hPa: null,
      air_C: x.air_C,
      humidity_pct: 50,
      mains_V: null,
    },
    waters: {
      [ID(10)]: {
        kind: 'water',
        version: 1,
        ...common(10, 'water'),
        calcium_mg_L: 8,
        magnesium_mg_L: 4,
        sodium_mg_L: 0,
        potassium_mg_L: 14,
        bicarbonate_mg_L: 21,
        chloride_mg_L: 14,
        sulfate_mg_L: 14,
        nitrate_mg_L: 0,
      },
    },
    grinders: {
      [ID(6)]: {
        kind: 'grinder',
        version: 1,
        ...common(6, 'grinder'),
        settings: x.medians.map((median_um, i) => ({
          id: `s${i}`,
          mark: String(i),
          retention_g: 0,
          distribution: {
            by: 'modes',
            modes: [
              { share: 1 - x.fines, median_um, gsd: 1.45 },
              { share: x.fines, median_um: 50, gsd: 1.6 },
            ],
          },
        })),
        zeros: [],
        burrs: [],
      },
    },
  };
}
