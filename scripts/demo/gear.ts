import type { Grinder, Setup, Venue } from '@pourline/core';
import { CAMPAIGN, GRINDER, SETUP, VENUE } from './ids.ts';

const common = { campaign_id: CAMPAIGN, notes: '', archived: false };

/** A setting as two log-normal modes: the coarse one and the fines. */
const twoModes = (
  id: string,
  mark: string,
  median_um: number,
  gsd: number,
  fines: number,
  fines_um: number,
) => ({
  id,
  mark,
  distribution: {
    by: 'modes' as const,
    modes: [
      { share: Math.round((1 - fines) * 1000) / 1000, median_um, gsd },
      { share: fines, median_um: fines_um, gsd: 1.6 },
    ],
  },
  retention_g: 0.1,
});

export const grinder: Grinder = {
  kind: 'grinder',
  version: 1,
  ...common,
  id: GRINDER,
  name: 'Bench grinder, flat burrs',
  notes: 'Marks counted from the point where the burrs just touch. Sizes invented, of the usual shape.',
  settings: [
    twoModes('s600', '6.0', 600, 1.5, 0.15, 45),
    twoModes('s700', '7.0', 700, 1.48, 0.14, 46),
    twoModes('s800', '8.0', 800, 1.45, 0.13, 48),
    twoModes('s900', '9.0', 900, 1.45, 0.12, 50),
    twoModes('s1000', '10.0', 1000, 1.45, 0.11, 52),
    twoModes('s1100', '11.0', 1100, 1.44, 0.1, 54),
    {
      id: 's850-sieved',
      mark: '8.5 (sieved)',
      distribution: {
        by: 'classes',
        classes: [
          { diameter_um: 40, share: 0.055 },
          { diameter_um: 80, share: 0.045 },
          { diameter_um: 160, share: 0.025 },
          { diameter_um: 320, share: 0.04 },
          { diameter_um: 450, share: 0.085 },
          { diameter_um: 600, share: 0.14 },
          { diameter_um: 800, share: 0.205 },
          { diameter_um: 1000, share: 0.19 },
          { diameter_um: 1250, share: 0.135 },
          { diameter_um: 1600, share: 0.065 },
          { diameter_um: 2000, share: 0.015 },
        ],
      },
      retention_g: 0.1,
    },
  ],
  zeros: [{ id: 'z1', at: '2026-11-12T18:00:00+00:00', touch_dial: 0 }],
  burrs: [{ id: 'b1', name: 'First burrs', fitted_on: '2026-03-02', used_kg: 0 }],
};

const kettles = [
  { id: 'a', name: 'Kettle A', capacity_g: 1_000, power_W: 1_200, body_equivalent_g: 100, loss_W_K: 1.2 },
  { id: 'b', name: 'Kettle B', capacity_g: 900, power_W: 1_200, body_equivalent_g: 90, loss_W_K: 1.1 },
];
const server = {
  material: 'borosilicate_glass',
  mass_g: 180,
  capacity_mL: 600,
  preheated_C: null,
  inner_diameter_mm: 88,
} as const;
/** A wide porcelain cup, as tasters like them. */
const cup = {
  material: 'porcelain',
  mass_g: 220,
  inner_diameter_mm: 86,
  capacity_mL: 240,
  double_wall: false,
} as const;
const setup = { kind: 'setup', version: 1, ...common, server, cup, kettles } as const;

export const setups: Setup[] = [
  {
    ...setup,
    id: SETUP.flat,
    name: 'Flat-bottom plastic dripper',
    dripper: {
      shape: 'flat',
      bottom_diameter_mm: 48,
      rim_diameter_mm: 115,
      height_mm: 65,
      material: 'polypropylene',
      mass_g: 75,
      valve: false,
    },
    paper: { mass_g: 1.5, resistance_per_m: null },
  },
  {
    ...setup,
    id: SETUP.cone,
    name: 'Porcelain cone',
    dripper: {
      shape: 'cone',
      bottom_diameter_mm: 20,
      rim_diameter_mm: 116,
      height_mm: 88,
      material: 'porcelain',
      mass_g: 390,
      valve: false,
    },
    paper: { mass_g: 1.7, resistance_per_m: null },
  },
  {
    ...setup,
    id: SETUP.immersion,
    name: 'Immersion dripper with a valve',
    dripper: {
      shape: 'cone',
      bottom_diameter_mm: 34,
      rim_diameter_mm: 118,
      height_mm: 105,
      material: 'polycarbonate',
      mass_g: 210,
      valve: true,
    },
    paper: { mass_g: 1.7, resistance_per_m: null },
  },
];

const venue = { kind: 'venue', version: 1, ...common, pressure_hPa: null, mains_V: 230 } as const;

export const venues: Venue[] = [
  {
    ...venue,
    id: VENUE.training,
    name: 'Training room',
    notes: 'At sea level.',
    altitude_m: 0,
    air_C: 22,
    humidity_pct: 50,
  },
  {
    ...venue,
    id: VENUE.hall,
    name: 'Skerrowmere Hall, 1 600 m',
    notes: 'Water boils below 95 °C up here, and the air is cool and dry.',
    altitude_m: 1_600,
    air_C: 18,
    humidity_pct: 35,
  },
];
