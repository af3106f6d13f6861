import type { Plan, Pour } from '@pourline/core';
import { CAMPAIGN, COFFEE, GRINDER, PLAN, SETUP, VENUE, WATER } from './ids.ts';

const base = {
  kind: 'plan',
  version: 1,
  campaign_id: CAMPAIGN,
  notes: '',
  archived: false,
  coffee_age_d: 14,
  grounds_C: null,
  rinse: { water_g: 120, temperature_C: 90 },
  actions: [],
  outlet_opens_s: null,
  lift_s: null,
  bypass: null,
  kettles: [],
  chill: null,
  serving: null,
} satisfies Partial<Plan>;

/** One cup for one guest, warmed with hot water while the brew drips. */
const oneCup: NonNullable<Plan['serving']> = {
  stands_s: 15,
  lid: false,
  cups: 1,
  cup_g: null,
  cups_C: 55,
  carry_s: 25,
  hot_above_C: 60,
  cold_below_C: 40,
};

/** Pours at a steady flow, named p1, p2 … in order of time. */
const pours = (
  each: readonly { at: number; g: number; C: number; water: string; kettle: string }[],
  flow_g_s: number,
  height_cm = 10,
): Pour[] =>
  each.map(({ at, g, C, water, kettle }, i) => ({
    id: `p${i + 1}`,
    start_s: at,
    water_g: g,
    rate: { by: 'flow', flow_g_s },
    water_id: water,
    kettle_id: kettle,
    kettle_temperature_C: C,
    height_cm,
  }));

const part = (setting_id: string, share: number) => ({ grinder_id: GRINDER, setting_id, share });

const fourPours: Plan = {
  ...base,
  id: PLAN.fourPours,
  name: 'Four pours, cool then hot',
  notes:
    'Common practice reports a bed near 35 °C under the cool first pour and about 70 °C under the hot ones: compare that with what is computed here. The dripper is taken away while it still drips.',
  coffee_id: COFFEE.washed,
  setup_id: SETUP.flat,
  venue_id: VENUE.training,
  dose_g: 14,
  rinse: null,
  grind: [part('s1000', 0.75), part('s800', 0.25)],
  pours: pours(
    [
      { at: 0, g: 50, C: 70, water: WATER.soft75, kettle: 'b' },
      { at: 30, g: 50, C: 95, water: WATER.firm90, kettle: 'a' },
      { at: 60, g: 50, C: 95, water: WATER.firm90, kettle: 'a' },
      { at: 90, g: 50, C: 95, water: WATER.firm90, kettle: 'a' },
    ],
    5,
  ),
  lift_s: 123,
  serving: oneCup,
};

const fourPoursAtTheHall: Plan = {
  ...fourPours,
  id: PLAN.fourPoursAtTheHall,
  name: 'Four pours, at the hall',
  notes:
    'The same brew where water boils below 95 °C: the hot pours start at 94 °C and the grind is a little finer. Kettle A goes back on its base after each pour, kettle B stays off.',
  venue_id: VENUE.hall,
  kettles: [
    { kettle_id: 'a', fill_g: 600, start_C: null, between: 'on_base' },
    { kettle_id: 'b', fill_g: 400, start_C: null, between: 'off_base' },
  ],
  grind: [part('s1000', 0.65), part('s800', 0.35)],
  pours: fourPours.pours.map((pour) => ({
    ...pour,
    kettle_temperature_C: Math.min(pour.kettle_temperature_C, 94),
  })),
};

const fivePoursCone: Plan = {
  ...base,
  id: PLAN.fivePoursCone,
  name: 'Five pours in the cone',
  notes:
    'A steady climb. Swirled once after the first pour so that all of it is wet. The kettle stays off its base and is not full, so each pour is a little cooler than the one before.',
  coffee_id: COFFEE.washed,
  setup_id: SETUP.cone,
  venue_id: VENUE.training,
  dose_g: 15,
  grind: [part('s800', 1)],
  pours: pours(
    [
      { at: 0, g: 45, C: 92, water: WATER.soft75, kettle: 'a' },
      { at: 40, g: 55, C: 92, water: WATER.soft75, kettle: 'a' },
      { at: 75, g: 50, C: 92, water: WATER.soft75, kettle: 'a' },
      { at: 110, g: 50, C: 92, water: WATER.soft75, kettle: 'a' },
      { at: 145, g: 50, C: 92, water: WATER.soft75, kettle: 'a' },
    ],
    5,
    8,
  ),
  actions: [{ id: 'swirl', what: 'swirl', start_s: 11, duration_s: 4 }],
  kettles: [{ kettle_id: 'a', fill_g: 750, start_C: null, between: 'off_base' }],
  serving: { ...oneCup, cups: 2, cups_C: 70 },
};

const immersion: Plan = {
  ...base,
  id: PLAN.immersion,
  name: 'Closed for two minutes and a half',
  notes: 'One pour on a closed valve, stirred twice, then let go.',
  coffee_id: COFFEE.anaerobic,
  setup_id: SETUP.immersion,
  venue_id: VENUE.training,
  dose_g: 15,
  grind: [part('s850-sieved', 1)],
  pours: pours([{ at: 0, g: 240, C: 91, water: WATER.firm90, kettle: 'a' }], 12, 6),
  actions: [
    { id: 'stir-in', what: 'stir', start_s: 25, duration_s: 6 },
    { id: 'stir-before', what: 'stir', start_s: 135, duration_s: 4 },
  ],
  outlet_opens_s: 150,
  serving: oneCup,
};

const threePours: Plan = {
  ...base,
  id: PLAN.threePours,
  name: 'Three pours and a little water after',
  notes: 'Short and sweet for the anaerobic lot, opened up with water straight into the server.',
  coffee_id: COFFEE.anaerobic,
  setup_id: SETUP.flat,
  venue_id: VENUE.training,
  dose_g: 16,
  grind: [part('s900', 0.7), part('s700', 0.3)],
  pours: pours(
    [
      { at: 0, g: 50, C: 88, water: WATER.firm90, kettle: 'a' },
      { at: 40, g: 80, C: 88, water: WATER.firm90, kettle: 'a' },
      { at: 80, g: 70, C: 82, water: WATER.soft75, kettle: 'b' },
    ],
    6,
  ),
  bypass: { water_g: 25, temperature_C: 85, water_id: WATER.soft75 },
  chill: {
    how: 'runs_over',
    first: { by: 'mass', drip_g: 40 },
    material: 'stainless_steel',
    mass_g: 160,
    temperature_C: -16,
    contact_W_K: null,
  },
};

export const plans: Plan[] = [fourPours, fourPoursAtTheHall, fivePoursCone, immersion, threePours];
