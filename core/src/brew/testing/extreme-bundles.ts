import type { BrewBundle, Plan } from '../../documents/index.ts';
import { demoBundle } from './demo-bundle.ts';

/** A brew at the edge of what documents allow, and what a brewer should be told of it. */
export interface Extreme {
  name: string;
  bundle: () => BrewBundle;
  /** Remarks that must be among those made, by code. */
  says: readonly string[];
}

type Pour = Plan['pours'][number];

/** The demo plan left to drain, changed. */
const changed = (change: (bundle: BrewBundle) => void) => (): BrewBundle => {
  const bundle = demoBundle();
  bundle.plan.lift_s = null;
  change(bundle);
  return bundle;
};

/** Pours alike, evenly spaced. */
const pours = (
  { plan }: BrewBundle,
  count: number,
  water_g: number,
  flow_g_s: number,
  every: number,
): Pour[] =>
  Array.from({ length: count }, (_, i) => ({
    ...plan.pours[0]!,
    id: `p${i}`,
    start_s: i * every,
    water_g,
    rate: { by: 'flow', flow_g_s },
    kettle_temperature_C: 92,
  }));

/** Every setting gives one size. */
function grind(bundle: BrewBundle, median_um: number): void {
  for (const grinder of Object.values(bundle.grinders))
    for (const setting of grinder.settings)
      setting.distribution = { by: 'modes', modes: [{ share: 1, median_um, gsd: 1.3 }] };
}

/** All water at once on a bed that keeps its outlet closed. */
function steep(bundle: BrewBundle, minutes: number): void {
  const { plan, setup } = bundle;
  setup.dripper.valve = true;
  plan.pours = pours(bundle, 1, 160, 8, 0);
  plan.outlet_opens_s = 60 * minutes;
}

export const EXTREMES: readonly Extreme[] = [
  {
    name: 'a dose of 1 g',
    bundle: changed((b) => {
      b.plan.dose_g = 1;
      b.plan.pours = pours(b, 1, 15, 2, 0);
    }),
    says: ['bed_shallow'],
  },
  {
    name: 'a dose of 100 g in a wide dripper',
    bundle: changed((b) => {
      b.plan.dose_g = 100;
      b.plan.pours = pours(b, 4, 375, 15, 60);
      Object.assign(b.setup.dripper, { bottom_diameter_mm: 90, rim_diameter_mm: 200, height_mm: 180 });
    }),
    says: ['server_too_small'],
  },
  {
    name: '20 pours',
    bundle: changed((b) => {
      b.plan.pours = pours(b, 20, 12, 4, 10);
    }),
    says: [],
  },
  {
    name: '40 pours, dripped',
    bundle: changed((b) => {
      b.plan.pours = pours(b, 40, 6, 1.5, 8);
    }),
    says: ['bed_runs_dry_often'],
  },
  {
    name: 'water of 0 °C on frozen grounds',
    bundle: changed((b) => {
      b.plan.grounds_C = -25;
      for (const pour of b.plan.pours) pour.kettle_temperature_C = 0;
    }),
    says: ['bed_freezes'],
  },
  {
    name: '3 000 m, the kettle at its boiling point',
    bundle: changed((b) => {
      b.venue.altitude_m = 3_000;
      b.venue.pressure_hPa = null;
      for (const pour of b.plan.pours) pour.kettle_temperature_C = 89.9;
      if (b.plan.rinse) b.plan.rinse.temperature_C = 89;
    }),
    says: ['near_boiling'],
  },
  {
    name: 'all fines',
    bundle: changed((b) => grind(b, 40)),
    says: ['still_full'],
  },
  {
    name: 'all boulders',
    bundle: changed((b) => grind(b, 3_000)),
    says: ['bed_runs_dry'],
  },
  {
    name: 'a bed that floods',
    bundle: changed((b) => {
      b.plan.pours = pours(b, 1, 2_000, 60, 0);
    }),
    says: ['head_overflows'],
  },
  {
    name: 'a bed that runs dry for an hour',
    bundle: changed((b) => {
      b.plan.pours = pours(b, 2, 80, 8, 3_600);
    }),
    says: ['bed_runs_dry'],
  },
  {
    name: 'half a gram of water',
    bundle: changed((b) => {
      b.plan.pours = pours(b, 1, 0.5, 0.2, 0);
    }),
    says: ['bed_not_wetted', 'nothing_served'],
  },
  { name: '30 min of immersion', bundle: changed((b) => steep(b, 30)), says: ['cup_cool'] },
  {
    name: 'a lift during the first second, right after a splash',
    bundle: changed((b) => {
      b.plan.pours = pours(b, 1, 30, 60, 0);
      b.plan.actions = [];
      b.plan.lift_s = 0.6;
    }),
    says: ['bed_not_wetted', 'nothing_served'],
  },
  {
    name: 'a lift while the outlet is still closed',
    bundle: changed((b) => {
      steep(b, 10);
      b.plan.lift_s = 120;
    }),
    says: ['nothing_served'],
  },
  {
    name: '15 mg of gas per g',
    bundle: changed((b) => {
      b.coffee.co2_at_roast_mg_g = 20;
      b.plan.coffee_age_d = 0;
    }),
    says: ['gas_strong'],
  },
  {
    name: 'freezing air on a dripper of thin steel',
    bundle: changed((b) => {
      b.venue.air_C = -10;
      Object.assign(b.setup.dripper, { material: 'stainless_steel', mass_g: 3_000 });
      b.plan.rinse = null;
    }),
    says: [],
  },
  {
    name: 'dry hot air and an hour of waiting',
    bundle: changed((b) => {
      b.venue.air_C = 50;
      b.venue.humidity_pct = 0;
      steep(b, 60);
    }),
    says: ['cup_cool'],
  },
  {
    name: 'stirring all the time',
    bundle: changed((b) => {
      b.plan.actions = Array.from({ length: 12 }, (_, i) => ({
        id: `s${i}`,
        what: 'stir' as const,
        start_s: i * 15,
        duration_s: 15,
      }));
    }),
    says: [],
  },
];
