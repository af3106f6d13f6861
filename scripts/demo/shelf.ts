import type { Campaign, Coffee, Water } from '@pourline/core';
import { CAMPAIGN, COFFEE, WATER } from './ids.ts';

const common = { campaign_id: CAMPAIGN, notes: '', archived: false };

export const campaign: Campaign = {
  kind: 'campaign',
  version: 1,
  ...common,
  id: CAMPAIGN,
  name: 'Demo: the Lanternmoor filter contest',
  notes: 'Everything here is invented: the contest, the coffees, the hall and every measured number.',
  contest_date: '2027-02-20',
  demo: true,
};

const coffee = {
  kind: 'coffee',
  version: 1,
  ...common,
  roast: 'light',
  frozen_on: null,
  thawed_on: null,
  moisture_pct: 2,
  extractable_pct: null,
  co2_at_roast_mg_g: null,
} as const;

export const coffees: Coffee[] = [
  {
    ...coffee,
    id: COFFEE.washed,
    name: 'Velumbra washed',
    process: 'washed, 18 h dry fermentation, raised beds',
    roasted_on: '2026-11-02',
    stock_g: 2_400,
    notes: 'White flowers and stone fruit when it is rested. Opens after about two weeks.',
  },
  {
    ...coffee,
    id: COFFEE.anaerobic,
    name: 'Tessavir anaerobic',
    process: 'anaerobic, whole cherries closed for 72 h, dried slowly',
    roasted_on: '2026-11-05',
    stock_g: 1_100,
    moisture_pct: 1.8,
    notes: 'Loud. Gets boozy above 92 °C, so poured cooler.',
  },
];

const noIons = {
  calcium_mg_L: 0,
  magnesium_mg_L: 0,
  sodium_mg_L: 0,
  potassium_mg_L: 0,
  bicarbonate_mg_L: 0,
  chloride_mg_L: 0,
  sulfate_mg_L: 0,
  nitrate_mg_L: 0,
};
const water = { kind: 'water', version: 1, ...common, ...noIons } as const;

export const waters: Water[] = [
  {
    ...water,
    id: WATER.soft75,
    name: 'Water 75',
    notes:
      'Ions sum to 75 mg/L. Per kg of purified water: 29.4 mg calcium chloride dihydrate, 37.0 mg magnesium sulfate heptahydrate, 35.0 mg potassium bicarbonate. Food-grade salts only; never drink a concentrate undiluted.',
    calcium_mg_L: 8.02,
    magnesium_mg_L: 3.65,
    potassium_mg_L: 13.68,
    chloride_mg_L: 14.18,
    sulfate_mg_L: 14.41,
    bicarbonate_mg_L: 21.36,
  },
  {
    ...water,
    id: WATER.firm90,
    name: 'Water 90',
    notes:
      'Ions sum to 90 mg/L. Per kg of purified water: 61.0 mg magnesium chloride hexahydrate, 14.7 mg calcium chloride dihydrate, 50.4 mg sodium bicarbonate. Food-grade salts only; never drink a concentrate undiluted.',
    calcium_mg_L: 4.01,
    magnesium_mg_L: 7.29,
    sodium_mg_L: 13.79,
    chloride_mg_L: 28.36,
    bicarbonate_mg_L: 36.61,
  },
  {
    ...water,
    id: WATER.purified,
    name: 'Purified water',
    notes: 'No ions to speak of. For mixing and rinsing.',
  },
  {
    ...water,
    id: WATER.tap,
    name: 'Tap, training room',
    notes: 'As the waterworks of the district prints it for the year. Hard: it furs the kettle.',
    calcium_mg_L: 84.2,
    magnesium_mg_L: 11.4,
    sodium_mg_L: 9.6,
    potassium_mg_L: 1.8,
    bicarbonate_mg_L: 251,
    chloride_mg_L: 18.6,
    sulfate_mg_L: 34,
    nitrate_mg_L: 11.5,
  },
];
