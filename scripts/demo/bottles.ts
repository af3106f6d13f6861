import type { Batch, ConcentrateDocument, Mix, SaltDocument } from '@pourline/core';
import { BATCH, CAMPAIGN, CONCENTRATE, MIX, SALT, WATER } from './ids.ts';

const common = { campaign_id: CAMPAIGN, notes: '', archived: false };

const jar = {
  kind: 'salt',
  version: 1,
  ...common,
  assay_low_pct: null,
  assay_high_pct: null,
  price_per_kg: null,
  food_grade: true,
  opened_on: null,
} as const;

export const salts: SaltDocument[] = [
  {
    ...jar,
    id: SALT.calciumChloride,
    name: 'Calcium chloride, dihydrate',
    notes: 'Draws water from the air: weighed once, quickly, for the calcium bottle, and closed again.',
    salt: 'calcium_chloride',
    hydrate: 2,
    amount_g: 480,
    price_per_kg: 14,
    opened_on: '2026-10-12',
  },
  {
    ...jar,
    id: SALT.magnesiumChloride,
    name: 'Magnesium chloride, hexahydrate',
    notes: 'Draws water from the air, as the calcium salt does.',
    salt: 'magnesium_chloride',
    hydrate: 6,
    amount_g: 450,
    price_per_kg: 16,
    opened_on: '2026-10-12',
  },
  {
    ...jar,
    id: SALT.magnesiumSulfate,
    name: 'Magnesium sulfate, heptahydrate',
    notes: 'The packet says 7 H2O. It is sold without water too; then half as much would be right.',
    salt: 'magnesium_sulfate',
    hydrate: 7,
    amount_g: 240,
    price_per_kg: 9,
    opened_on: '2026-10-30',
  },
  {
    ...jar,
    id: SALT.potassiumBicarbonate,
    name: 'Potassium bicarbonate',
    salt: 'potassium_bicarbonate',
    hydrate: 0,
    amount_g: 190,
    price_per_kg: 22,
    opened_on: '2026-10-12',
  },
  {
    ...jar,
    id: SALT.sodiumBicarbonate,
    name: 'Sodium bicarbonate',
    salt: 'sodium_bicarbonate',
    hydrate: 0,
    amount_g: 420,
    price_per_kg: 6,
    opened_on: '2026-10-12',
  },
  {
    ...jar,
    id: SALT.sodiumChloride,
    name: 'Sodium chloride, no iodine',
    notes: 'Without iodine and anti-caking agent. Not in either water so far.',
    salt: 'sodium_chloride',
    hydrate: 0,
    amount_g: 300,
    price_per_kg: 4,
  },
];

const bottle = {
  kind: 'concentrate',
  version: 1,
  ...common,
  given_by: 'syringe',
  made_on: '2026-11-18',
} as const;

export const concentrates: ConcentrateDocument[] = [
  {
    ...bottle,
    id: CONCENTRATE.calcium,
    name: 'Calcium bottle',
    notes: '0.04 mol of calcium per kg of water: 10 mL in 2 kg are 8 mg of calcium per kg.',
    parts: [{ salt: 'calcium_chloride', hydrate: 2, salt_g: 2.94 }],
    water_g: 500,
    left_g: 430,
  },
  {
    ...bottle,
    id: CONCENTRATE.magnesium,
    name: 'Magnesium bottle',
    notes: '0.06 mol of magnesium per kg of water: 10 mL in 2 kg are 7.3 mg of magnesium per kg.',
    parts: [{ salt: 'magnesium_chloride', hydrate: 6, salt_g: 6.1 }],
    water_g: 500,
    left_g: 440,
  },
];

const target = (of: Mix['waters'][number]['targets'][number]['of'], aim: number) => ({
  of,
  aim,
  low: null,
  high: null,
  weight: 1,
  hard: false,
});
const atMost = (of: Mix['waters'][number]['targets'][number]['of'], high: number) => ({
  ...target(of, 0),
  aim: null,
  high,
});

export const mixes: Mix[] = [
  {
    kind: 'mix',
    version: 1,
    ...common,
    id: MIX,
    name: 'Two waters for the four pours',
    notes:
      'Water 75 under the cool first pour, Water 90 under the three hot ones; three cups take 150 g and 450 g. What draws water from the air is kept in solution; the dry salts are weighed straight in.',
    waters: [
      {
        id: 'first',
        name: 'Water 75',
        batch_g: 2_000,
        poured_g: 50,
        targets: [
          target('calcium', 8),
          target('magnesium', 3.65),
          target('alkalinity', 17.5),
          target('potassium', 13.7),
          target('sulfate', 14.4),
        ],
      },
      {
        id: 'hot',
        name: 'Water 90',
        batch_g: 2_000,
        poured_g: 150,
        targets: [
          target('calcium', 4),
          target('magnesium', 7.3),
          target('alkalinity', 30),
          target('sodium', 13.8),
          atMost('potassium', 0),
          atMost('sulfate', 0),
        ],
      },
    ],
    bases: [{ water_id: WATER.purified, price_per_L: 0.4, uncertainty_pct: 5 }],
    salt_ids: [SALT.magnesiumSulfate, SALT.potassiumBicarbonate, SALT.sodiumBicarbonate, SALT.sodiumChloride],
    concentrate_ids: [CONCENTRATE.calcium, CONCENTRATE.magnesium],
    instruments: {
      balance: { step_g: 0.001, capacity_g: 50 },
      water_balance: { step_g: 1 },
      syringe: { step_mL: 0.1, accuracy_mL: 0.05, capacity_mL: 10 },
      drop: null,
      meter: {
        scale: { by: 'factor', factor: 0.5 },
        compensation: { by: 'linear', per_K: 0.02 },
        accuracy_pct: 2,
        step: 1,
      },
    },
    container_mL: 100,
  },
];

export const batches: Batch[] = [
  {
    kind: 'batch',
    version: 1,
    ...common,
    id: BATCH,
    name: 'Water 90, 2026-11-20',
    notes: 'For the brews of the weekend. The bicarbonate came out a milligram over.',
    mix_id: MIX,
    water_id: 'hot',
    batch_g: 2_000,
    given: [{ item_id: SALT.sodiumBicarbonate, given_g: 0.102 }],
    done: [
      'check',
      'most_of_main',
      `add_hardness ${CONCENTRATE.calcium}`,
      `add_hardness ${CONCENTRATE.magnesium}`,
      `add_buffer ${SALT.sodiumBicarbonate}`,
      'fill',
      'measure',
      'label',
    ],
    meter_shows: 76,
    sample_C: 22.5,
    made_on: '2026-11-20',
    use_by: '2026-11-27',
    bottles: 2,
  },
];
